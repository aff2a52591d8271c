"""The sentences of the map."""

from planner.report.pictures.endings import Ending
from planner.report.pictures.map.axis import Axis
from planner.report.pictures.map.cells import Cell, passed
from planner.report.pictures.map.data import KnobMap
from planner.report.pictures.words import sentences, short
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
    parts = [*picture.study_line]
    if picture.risked:
        parts.append(risk(picture))
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


def risk(picture: KnobMap) -> str:
    """How many runs stood above an everyday ceiling, and of what."""
    runs = phrases.counted(picture.risked, "run")
    names = ", ".join(short(name, 24) for name in picture.risked_names)
    return f"{runs} AT YOUR OWN RISK, above the everyday ceiling of {names}"


def aside(picture: KnobMap) -> str:
    """What small pale marks stand for."""
    runs = phrases.counted(picture.aside, "run")
    return f"small, pale: {runs} with other knobs or workload"


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
        parts.append(aside(picture).capitalize())
    parts += [spot.words[0].upper() + spot.words[1:] for spot in picture.pending]
    parts += [
        f"{line.limit.value} of {short(axis.knob.name)} {line.shown}"
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
        told += [f"passed at {_list(picture.x, held)}"] if held else []
        told += [f"failed at {_list(picture.x, failed)}"] if failed else []
    else:
        told += [f"passed up to {span(picture.x, held[-1])}"] if held else []
        told += [f"failed from {span(picture.x, failed[0])} on"] if failed else []
    if not told:
        told = [Ending.SHORT.value]
    return f"At {span(picture.y, row)}: {', '.join(told)}"


def span(axis: Axis, cell: int) -> str:
    """The values of a cell in words."""
    places = axis.indexes(cell)
    first, last = axis.knob.show(axis.value(places[0])), axis.knob.show(axis.value(places[-1]))
    return first if first == last else f"{first} to {last}"


def _list(axis: Axis, cells: list[int]) -> str:
    return ", ".join(span(axis, cell) for cell in cells)
