"""The timings beside the standard's, and the same nanoseconds at another data rate."""

from planner.domain.memory import Standard
from planner.domain.quantity import format_number
from planner.report.text.timing.figures import at, listed, ns
from planner.trade.timing.bins import BINS, FASTEST_BINNED
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.timings import Timings


def bin_rows(timings: Timings) -> list[tuple[str, str]]:
    """The bins of this data rate, and how far the read latency is from them."""
    latency = timings.clocks.get("tCL")
    if latency is None:
        return []
    bins = BINS[timings.standard].get(int(timings.rate), ())
    if not bins:
        if timings.rate > FASTEST_BINNED[timings.standard]:
            last = FASTEST_BINNED[timings.standard]
            return [("Bin", f"the standard has none: its last is {timings.standard}-{last}")]
        return []
    sold = listed([f"{each.clocks} ({ns(each.aa_ps / 1000)})" for each in bins])
    away = bins[0].aa_ps / 1000 - timings.ns("tCL")
    how = "is within them" if away <= 0.05 else f"is {ns(away)} faster, as tuned sets are"
    return [("Bin", f"the standard knows {sold}; {at('tCL', latency)} {how}")]


def standard_rows(timings: Timings) -> list[tuple[str, str]]:
    """What lies under the standard's minima, and what the standard does not have."""
    below = [
        f"{at(name, least)} (here {timings.clocks[name]})"
        for name, least in timings.below_standard()
    ]
    odd = _unknown_to_standard(timings)
    if below:
        found = (
            f"with x8 chips it asks for more: {listed(below)}. A note, no verdict: tuned sets"
            " are outside it, and runs tell what holds"
        )
    else:
        found = "no timing given is under a minimum that is known here"
    return [("Standard", ". ".join([found, *odd]))]


def _unknown_to_standard(timings: Timings) -> list[str]:
    if timings.standard is not Standard.DDR5:
        return []
    latency, write = timings.clocks.get("tCL"), timings.clocks.get("tCWL")
    found = []
    if latency is not None and latency % 2:
        found.append(f"{at('tCL', latency)}: DDR5 has even read latencies only")
    if latency is not None and write is not None and write != latency - 2:
        found.append(
            f"{at('tCWL', write)}: DDR5 writes two clocks sooner than it reads, {latency - 2}"
        )
    return found


def at_rows(timings: Timings, moved: Timings) -> list[tuple[str, str]]:
    """The same nanoseconds at another data rate, what stays, and what standing still means."""
    times = [at(n, count) for n, count in moved.clocks.items() if TIMINGS[n].is_time]
    counts = [at(n, count) for n, count in moved.clocks.items() if not TIMINGS[n].is_time]
    rows = []
    if times:
        rows.append(f"the same nanoseconds take {listed(times)}")
    if counts:
        verb = "is a plain count" if len(counts) == 1 else "are plain counts"
        rows.append(f"{listed(counts)} {verb} of clocks and would stay")
    change = timings.rate / moved.rate - 1
    if times and change:
        rows.append(
            f"Left at their clocks, all times would be {abs(change):.1%}"
            f" {'shorter' if change < 0 else 'longer'}"
        )
    label = f"At {format_number(moved.rate)}"
    return [(label, ". ".join(rows) if rows else "nothing was given that could change")]
