"""The runs of the map, counted into cells that are large enough to be read."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil

from planner.domain.knob import Setting, Value
from planner.history import History
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.map.axis import Axis, index_of, place_of

LOW, TALL = 16.0, 22.0
"""Points that a cell needs from below to above; with runs of both kinds in it."""
LETTER = 0.64
"""Width of a character of a count, as a share of its size."""
SMALLEST = 6.0
"""Points of the smallest count."""
_MARK, _SMALL_MARK, _PAD = 6.0, 4.0, 2.5
"""Points across that a mark, one of a run aside, and the space around all, take."""

Tally = tuple[tuple[Ending, int], ...]
"""How many runs ended how."""


@dataclass(frozen=True, slots=True)
class Cell:
    """The runs at one cell."""

    column: int
    row: int
    here: Tally
    """With the other knobs at the study's values, of its workload."""
    aside: Tally
    """All others."""


@dataclass(frozen=True, slots=True)
class Counted:
    """The runs by the indexes of their two values, by ending, and whether they stand aside."""

    runs: Mapping[tuple[int, int, Ending, bool], int]
    between: int
    """Runs between two values, counted at the nearest."""
    unplaced: int
    """Runs at a word or a choice that the study does not have any more."""


def passed(tally: Tally) -> int:
    """Runs that held to the end."""
    return sum(count for ending, count in tally if ending is Ending.PASSED)


def total(tally: Tally) -> int:
    """All of them."""
    return sum(count for _, count in tally)


def words(tally: Tally) -> str:
    """Passes of runs, as `3/4`."""
    return f"{passed(tally)}/{total(tally)}"


def counted_runs(history: History, x: Axis, y: Axis, base: Setting) -> Counted:
    """Every run that counts, once."""
    definition, workload = history.definition, history.definition.workload.name
    right, up = x.knob.name, y.knob.name
    others = [name for name in base if name not in (right, up)]
    there = [base[name] for name in others]
    places: dict[tuple[Value, Value], tuple[int, int, bool] | None] = {}
    runs: Counter[tuple[int, int, Ending, bool]] = Counter()
    between = unplaced = 0
    for run in history.evidence:
        ran = run.ran
        at = (ran[right], ran[up])
        if at not in places:
            places[at] = _placed(x, y, *at)
        place = places[at]
        if place is None:
            unplaced += 1
            continue
        aside = run.workload != workload or [ran[name] for name in others] != there
        runs[place[0], place[1], ending_of(run, definition), aside] += 1
        between += place[2]
    return Counted(runs, between, unplaced)


def _placed(x: Axis, y: Axis, right: Value, up: Value) -> tuple[int, int, bool] | None:
    across, above = place_of(x.knob, right), place_of(y.knob, up)
    if across is None or above is None:
        return None
    index = index_of(across), index_of(above)
    return (*index, (across, above) != index)


def cells_of(counted: Counted, x: Axis, y: Axis) -> tuple[Cell, ...]:
    """The cells that hold runs, row by row."""
    here: dict[tuple[int, int], Counter[Ending]] = {}
    aside: dict[tuple[int, int], Counter[Ending]] = {}
    for (right, up, ending, is_aside), count in counted.runs.items():
        at = y.cell(up), x.cell(right)
        (aside if is_aside else here).setdefault(at, Counter())[ending] += count
    return tuple(
        Cell(column, row, _tally(here.get((row, column))), _tally(aside.get((row, column))))
        for row, column in sorted({*here, *aside})
    )


def _tally(counter: Counter[Ending] | None) -> Tally:
    return tuple(sorted(counter.items(), key=_in_order)) if counter else ()


_ORDER = {ending: place for place, ending in enumerate(Ending)}


def _in_order(counted: tuple[Ending, int]) -> int:
    return _ORDER[counted[0]]


def readable(
    counted: Counted, x: Axis, y: Axis, room: tuple[float, float]
) -> tuple[Axis, Axis, tuple[Cell, ...]]:
    """The axes with as few values to a cell as can be read in `room`, in points across and up."""
    if not counted.runs:
        return x, y, ()
    # Fewer values than these cannot do, whatever stands in the cells.
    x = x.shared(max(1, ceil(x.cells * (_MARK + _PAD) / room[0])))
    y = y.shared(max(1, ceil(y.cells * LOW / room[1])))
    while True:
        cells = cells_of(counted, x, y)
        tall = TALL if any(cell.here and cell.aside for cell in cells) else LOW
        if y.cells > 1 and room[1] / y.cells < tall:
            y = y.shared(y.every + 1)
        elif x.cells > 1 and room[0] / x.cells < _needs(cells):
            x = x.shared(x.every + 1)
        else:
            return x, y, cells


def _needs(cells: Iterable[Cell]) -> float:
    """Points across that the widest cell takes."""
    return _PAD + max(max(_alone(c.here), _alone(c.aside), _corner(c)) for c in cells)


def _alone(tally: Tally) -> float:
    return max(_MARK * len(tally), _count_width(tally))


def _corner(cell: Cell) -> float:
    """Runs that stand aside have their count beside their marks where they share a cell."""
    if not (cell.here and cell.aside):
        return 0.0
    return _SMALL_MARK * len(cell.aside) + _count_width(cell.aside) + _PAD


def _count_width(tally: Tally) -> float:
    return LETTER * SMALLEST * len(words(tally))
