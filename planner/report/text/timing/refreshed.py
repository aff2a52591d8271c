"""What refresh costs, in sentences."""

from planner.report.text.timing.figures import clocks, listed, ns
from planner.trade.timing.clocks import most_clocks
from planner.trade.timing.refresh import REFRESH_NS, refresh_interval_ps, refresh_share
from planner.trade.timing.timings import Timings


def refresh_rows(timings: Timings, gigabits: int | None) -> list[tuple[str, str]]:
    """How long a refresh takes, the share of time that goes into it, and whether it is late."""
    rows = []
    recovery, interval = timings.clocks.get("tRFC"), timings.clocks.get("tREFI")
    allowed = refresh_interval_ps(timings.standard)
    if recovery is not None:
        due = timings.ns("tREFI") if interval is not None else allowed / 1000
        share = refresh_share(timings.ns("tRFC"), due)
        every = f"every {ns(due)}" + ("" if interval is not None else " by the standard")
        text = f"one takes {clocks(recovery, timings.rate)}; due {every}, that is {share:.1%} of"
        rows.append(("Refresh", f"{text} all time. {_needed(timings, gigabits)}"))
    if interval is not None:
        rows.append(("Due", _lateness(timings, allowed)))
    return rows


def _needed(timings: Timings, gigabits: int | None) -> str:
    if gigabits is not None and gigabits not in REFRESH_NS[timings.standard]:
        return f"What the standard gives {gigabits} Gb chips no open source tells"
    least = {size: table["tRFC"] for size, table in REFRESH_NS[timings.standard].items()}
    asked = least if gigabits is None else {gigabits: least[gigabits]}
    found = [f"{size} Gb chips {time} ns" for size, time in asked.items()]
    return f"The standard gives {listed(found)}; a module's own bytes may say less"


def _lateness(timings: Timings, allowed_ps: int) -> str:
    allowed = ns(allowed_ps / 1000)
    set_to = f"tREFI is {clocks(timings.clocks['tREFI'], timings.rate)}"
    if timings.clocks["tREFI"] <= most_clocks(allowed_ps, timings.clock_ps):
        return f"{set_to}, within the {allowed} that the standard allows up to 85 C"
    warmer = ns(refresh_interval_ps(timings.standard, 95.0) / 1000)
    return (
        f"{set_to}, past the {allowed} that the standard allows up to 85 C, {warmer} up to 95 C:"
        " cells may lose data unnoticed, the warmer the sooner. Only long runs at full heat tell"
    )
