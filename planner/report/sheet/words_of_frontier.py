"""The frontier in words: what to keep at each value of the second knob."""

from collections.abc import Iterator

from planner.models.frontier.findings import FrontierPoint
from planner.report.sheet.nouns import Traced
from planner.report.sheet.settings_words import OWN_RISK
from planner.report.text.frontier import in_range, to_keep
from planner.report.written.blocks import Block, Heading, Paragraph, Strong, Table, Words


def frontier_blocks(traced: Traced | None) -> Iterator[Block]:
    """The table; nothing where another aim was searched."""
    if traced is None or not traced.found.points:
        return
    knob, along = traced.knob.name, traced.along.name
    yield Heading(3, f"{knob} along {along}")
    yield Paragraph(
        f"Values at which a full run has held, there or where it says as much, each with its chance"
        f" to pass by the model; the edge is where {traced.found.target:.0%} of full runs pass. At"
        f" a {along} marked * no run was to be asked for."
    )
    head = (along, f"{knob} to keep", f"Edge, {traced.found.level:.0%} sure", "Runs")
    rows = tuple(_row(traced, point) for point in traced.found.points)
    yield Table(head, rows, f"{knob} along {along}")


def _row(traced: Traced, point: FrontierPoint) -> tuple[Words, ...]:
    at = f"{traced.along.show(point.along)}{'' if point.asked else ' *'}"
    low, high = (in_range(traced.knob, end) for end in point.interval)
    where: Words = (f"{at}, ", Strong(OWN_RISK)) if point.at_own_risk else at
    edge = low if low == high else f"{low} to {high}"
    return where, to_keep(traced.knob, point), edge, str(point.runs)
