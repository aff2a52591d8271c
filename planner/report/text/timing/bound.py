"""Which of two timings binds, in sentences."""

from planner.report.text.timing.figures import at, clocks, listed
from planner.trade.timing.relations import Binding, bindings
from planner.trade.timing.timings import Timings

_LABELS = {
    "row cycle": "Row cycle",
    "open row": "Open row",
    "four activates": "Activates",
    "bank group activates": "Groups",
    "bank group reads": "Groups",
    "bank group turnaround": "Groups",
}
_AFTER_WRITE = {
    "tWR": "the precharge",
    "tWTR_S": "a read in another bank group",
    "tWTR_L": "a read in the same bank group",
}


def bound_rows(timings: Timings) -> list[tuple[str, str]]:
    """One sentence for each rule between timings that the set tells of."""
    rows = [
        (_LABELS[binding.relation.name], _sentence(binding, timings.rate))
        for binding in bindings(timings.clocks)
    ]
    return rows + _burst_rows(timings) + _write_rows(timings)


def _sentence(binding: Binding, rate: float) -> str:
    relation, least = binding.relation, binding.sum_clocks
    timing, count = relation.timing, binding.set_clocks
    if binding.by_sum:
        return (
            f"{relation.sum} binds: {relation.why}, which takes {clocks(least, rate)};"
            f" {at(timing, count)} is too short to matter"
        )
    if count == least:
        return f"{timing} and {relation.sum} bind alike, {clocks(count, rate)}"
    return (
        f"{timing} binds, {clocks(count, rate)}: {count - least} more than {relation.sum}, which is"
        f" {least}"
    )


def _burst_rows(timings: Timings) -> list[tuple[str, str]]:
    """How much of the peak one bank group alone can move."""
    spacing, burst = timings.clocks.get("tCCD_L"), timings.standard.burst_clocks
    if spacing is None:
        return []
    if spacing <= burst:
        text = f"reads of one bank group follow each other burst after burst, {burst} clocks each"
    else:
        text = (
            f"a burst takes {burst} clocks, but reads of one bank group are tCCD_L apart,"
            f" {clocks(spacing, timings.rate)}: alone it moves {burst / spacing:.0%} of the peak"
        )
    return [("Burst", text)]


def _write_rows(timings: Timings) -> list[tuple[str, str]]:
    """What follows the last data of a write."""
    found = [
        f"{clocks(timings.clocks[name], timings.rate)} to {what}"
        for name, what in _AFTER_WRITE.items()
        if name in timings.clocks
    ]
    return [("Writes", f"from its last data {listed(found)}")] if found else []
