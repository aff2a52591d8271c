"""The sentences of the map."""

from planner.report.pictures.endings import Ending
from planner.report.pictures.map.axis import Axis
from planner.report.pictures.map.cells import Cell, passed
from planner.report.pictures.map.data import KnobMap
from planner.report.pictures.words import capital, sentences, short
from planner.report.text import phrases

_ROWS = 8
"""So many rows are put into words."""


def verdict(picture: KnobMap) -> str:
    """What the map says, in one sentence; it stands as its title."""
    names = f"{short(picture.x.knob.name)} and {short(picture.y.knob.name)}"
    if not picture.cells:
        return f"No run over {names} yet"
    passes = sum(passed(cell.here) + passed(cell.aside) for cell in picture.cells)
    runs = phrases.counted(picture.here + picture.aside, "run")
    lead = f"{passes} of {runs} over {names} passed"
    if picture.keep is None:
        return f"{lead}; no setting is likely to hold"
    return f"{lead}; {picture.keep.words}"


def conditions(picture: KnobMap) -> str:
    """What full marks hold for, and what a cell gathers."""
    parts = [*picture.study_line, *picture.risked.words]
    shared = [
        f"{axis.every} of {short(axis.knob.name)}"
        for axis in (picture.x, picture.y)
        if axis.every > 1
    ]
    if shared:
        parts.append(f"Values that share a cell: {', '.join(shared)}")
    if picture.between:
        runs = phrases.counted(picture.between, "run")
        parts.append(f"{runs} between two values counted at the nearest")
    if picture.unplaced:
        parts.append(f"{phrases.counted(picture.unplaced, 'run')} with no place here left out")
    return sentences([*parts, *picture.others])


def aside(picture: KnobMap) -> str:
    """What small pale marks stand for."""
    return f"small, pale: {_others(picture)}"


def _others(picture: KnobMap) -> str:
    runs = phrases.counted(picture.aside, "run")
    return f"{runs} with other knobs or workload"


def alternative(picture: KnobMap) -> str:
    """The map in one paragraph, row by row."""
    parts = [verdict(picture)]
    rows: dict[int, list[Cell]] = {}
    for cell in picture.cells:
        if cell.here:
            rows.setdefault(cell.row, []).append(cell)
    parts += [_row(picture, row, rows[row]) for row in list(rows)[:_ROWS]]
    if len(rows) > _ROWS:
        parts.append(f"{len(rows) - _ROWS} more rows")
    if picture.aside:
        parts.append(_others(picture))
    parts += [capital(spot.words) for spot in picture.pending]
    parts += [
        f"{capital(line.limit.value)} of {short(axis.knob.name)} {line.shown}"
        for axis, lines in ((picture.x, picture.x_lines), (picture.y, picture.y_lines))
        for line in lines
    ]
    return f"{sentences(parts)} {conditions(picture)}"


def _row(picture: KnobMap, row: int, cells: list[Cell]) -> str:
    """Up to where runs passed and from where on they failed in one row."""
    ordered = sorted(cells, key=lambda cell: cell.column, reverse=picture.x.falls)
    held = [c.column for c in ordered if passed(c.here)]
    failed = [c.column for c in ordered if any(ending.failed for ending, _ in c.here)]
    told = []
    if picture.x.knob.grid is None:
        told += [f"passed at {_list(picture, held, row)}"] if held else []
        told += [f"failed at {_list(picture, failed, row)}"] if failed else []
    else:
        told += [f"passed up to {_at(picture, held[-1], row)}"] if held else []
        told += [f"failed from {_at(picture, failed[0], row)} on"] if failed else []
    if not told:
        told = [Ending.SHORT.value]
    return f"At {_span(picture.y, row)}: {', '.join(told)}"


def _span(axis: Axis, cell: int) -> str:
    """The values of a cell in words."""
    places = axis.indexes(cell)
    first, last = axis.knob.show(axis.value(places[0])), axis.knob.show(axis.value(places[-1]))
    return first if first == last else f"{first} to {last}"


def _at(picture: KnobMap, column: int, row: int) -> str:
    risk = " (AT YOUR OWN RISK)" if picture.risky(column, row) else ""
    return f"{_span(picture.x, column)}{risk}"


def _list(picture: KnobMap, columns: list[int], row: int) -> str:
    return ", ".join(_at(picture, column, row) for column in columns)
