"""The sentences of the picture of all edges."""

from planner.domain.knob import Knob
from planner.report.pictures.edge.joint.data import JointEdges, Row
from planner.report.pictures.words import edge_lies, sentences, short
from planner.report.text import phrases


def verdict(picture: JointEdges) -> str:
    """Which knob to keep stands nearest to its edge; it stands as the picture's title."""
    if not picture.rows:
        return "No knob with a range can fail a run"
    if not picture.runs:
        return "No run yet: these edges are what was expected before the first one"
    near = min(picture.rows, key=lambda row: row.room)
    knob = near.knob
    where = f"{short(knob.name)} {knob.show(near.kept)}"
    of = "setting to keep" if picture.holds else "easiest setting, as nothing is known to hold,"
    lies = edge_lies(knob, near.edge.interval)
    return f"Of the {of} {where} stands nearest to its edge; {lies}"


def conditions(picture: JointEdges) -> str:
    """Which study, what an edge is here, where the knobs without one stand."""
    parts = [
        *picture.study_line,
        *picture.at_risk.words,
        f"Each edge: where {picture.target:.0%} of runs pass by that knob alone, the others as in"
        " the setting to keep",
        "Marks stand beside other values of the other knobs",
    ]
    if picture.beside:
        parts.append(f"Without an edge of their own: {', '.join(map(short, picture.beside))}")
    return sentences(parts)


def range_words(row: Row) -> str:
    """The interval in few letters, its easier end first."""
    knob = row.knob
    easier, harder = sorted(map(knob.hardness, row.edge.interval))
    return _unit_once(knob, _within(knob, easier), _within(knob, harder))


def span_words(knob: Knob) -> str:
    """The knob's range in few letters, its easiest value first."""
    return _unit_once(knob, *(knob.show(value) for value in (knob.values[0], knob.values[-1])))


def alternative(picture: JointEdges) -> str:
    """The picture in one paragraph."""
    parts = [verdict(picture), *(_row_words(row) for row in picture.rows)]
    return f"{sentences(parts)} {conditions(picture)}"


def _row_words(row: Row) -> str:
    knob = row.knob
    words = f"{short(knob.name)}: keep {knob.show(row.kept)}, {edge_lies(knob, row.edge.interval)}"
    if row.held:
        words += f", held up to {knob.show(row.held[-1])}"
    if row.failed:
        words += f", failed runs from {knob.show(row.failed[0])} on"
    words += "".join(
        f", {bound.limit.value} {knob.show(bound.value)}"
        for bound in row.bounds
        if 0 <= row.across(bound.value) <= 1
    )
    return words


def _within(knob: Knob, steps: float) -> str:
    """The value so many steps from the easiest one, or that it lies out of the range."""
    if steps < 0:
        return f"before {knob.show(knob.values[0])}"
    if steps > len(knob.values) - 1:
        return f"past {knob.show(knob.values[-1])}"
    return knob.show_at(steps)


def _unit_once(knob: Knob, first: str, last: str) -> str:
    unit = f" {knob.unit}" if first.endswith(f" {knob.unit}") else knob.unit
    return f"{first.removesuffix(unit)} to {last}"


def chance_words(picture: JointEdges) -> str:
    """The label of the intervals."""
    return f"edge, {phrases.chance(picture.level)} interval"
