"""The frontier as a table: what to keep at each value of the second knob, and where the edge is."""

from itertools import chain

from planner.domain.definition import Definition
from planner.domain.knob import Knob
from planner.models.frontier.findings import Frontier, FrontierPoint
from planner.report.text import phrases
from planner.report.text.layout import columns, prose, widest


def frontier_lines(definition: Definition, frontier: Frontier, width: int) -> list[str]:
    """One line a value of the second knob, ascending; those above everyday apart and marked."""
    notes = [line for note in frontier_notes(frontier) for line in prose(note, width)]
    if not frontier.points:
        return notes
    points = sorted(frontier.points, key=lambda point: bool(point.at_own_risk))
    head, *told = _table(definition, frontier, points, width)
    everyday = sum(not point.at_own_risk for point in points)
    lines = [*head, *chain.from_iterable(told[:everyday])]
    if everyday < len(points):
        names = sorted({name for point in points for name in point.at_own_risk})
        lines += ["", *prose(phrases.own_risk(tuple(names)), width)]
        lines += chain.from_iterable(told[everyday:])
    return lines + notes


def frontier_notes(frontier: Frontier) -> list[str]:
    """What is to be said of the whole table, in sentences."""
    if not frontier.points:
        return [f"No value of {frontier.along} is permitted, and none was run."]
    if all(point.asked for point in frontier.points):
        return []
    return ["* no run is asked for here: from its neighbours and your own runs."]


def frontier_rows(definition: Definition, frontier: Frontier) -> list[tuple[str, ...]]:
    """Headings, then each point as cells; those above everyday last, and marked in words."""
    points = sorted(frontier.points, key=lambda point: bool(point.at_own_risk))
    head, *rows = _cells(definition, frontier, points)
    risky = [
        ", ".join(
            part for part in (row[-1], "AT YOUR OWN RISK" if point.at_own_risk else "") if part
        )
        for row, point in zip(rows, points, strict=True)
    ]
    return [head, *((*row[:-1], told) for row, told in zip(rows, risky, strict=True))]


def _table(
    definition: Definition, frontier: Frontier, points: list[FrontierPoint], width: int
) -> list[list[str]]:
    """The heading, then each point, in the lines that it takes."""
    knob, along = definition.knobs[frontier.knob], definition.knobs[frontier.along]
    rows = _cells(definition, frontier, points)
    lines = columns(rows, right=(0, 1, 3))
    if widest(lines) <= width:
        return [[line] for line in lines]
    told = [prose(f"{knob.name} along {along.name}, edges {frontier.level:.0%} sure", width)]
    for at, kept, edge, runs, best in rows[1:]:
        edge_lines = prose(f"edge {edge}, runs: {runs}", width, 4)
        told.append([*prose(f"{at}: {kept} {best}", width, 2), *edge_lines])
    return told


def _cells(
    definition: Definition, frontier: Frontier, points: list[FrontierPoint]
) -> list[tuple[str, str, str, str, str]]:
    knob, along = definition.knobs[frontier.knob], definition.knobs[frontier.along]
    head = (along.name, f"{knob.name} to keep", f"edge, {frontier.level:.0%} sure", "runs", "")
    return [head, *(_row(knob, along, frontier, point) for point in points)]


def _row(
    knob: Knob, along: Knob, frontier: Frontier, point: FrontierPoint
) -> tuple[str, str, str, str, str]:
    best = "best" if point.along == frontier.best and point.kept is not None else ""
    at = f"{along.show(point.along)}{'' if point.asked else ' *'}"
    low, high = (in_range(knob, end) for end in point.interval)
    return (
        at,
        to_keep(knob, point),
        low if low == high else f"{low} to {high}",
        str(point.runs),
        best,
    )


def to_keep(knob: Knob, point: FrontierPoint) -> str:
    """The value to keep with its chance, or why there is none."""
    if point.kept is None:
        return point.holding.value
    return f"{knob.show(point.kept)} ({phrases.chance(point.pass_probability)})"


def in_range(knob: Knob, value: float) -> str:
    """The value, or that it lies out of the knob's range."""
    assert knob.grid is not None, knob.name
    if value > knob.grid.high:
        return f"over {knob.show(knob.grid.high)}"
    if value < knob.grid.low:
        return f"under {knob.show(knob.grid.low)}"
    return knob.show_at(knob.hardness(value))
