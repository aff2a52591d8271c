"""What the map of two knobs shows, gathered from the history and frozen."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import floor

from planner.domain.knob import Knob, Setting
from planner.history import History
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.findings import Recommendation
from planner.report.pictures.map.axis import Axis, index_of, place_of, size_of
from planner.report.pictures.map.cells import Cell, counted_runs, readable, total
from planner.report.pictures.map.regions import Line, Regions, lines_of, regions_of
from planner.report.pictures.risked import Risked, risked_runs
from planner.report.pictures.words import best_word, others_at, study_line
from planner.searching import Searching

ROOM = (475.0, 352.0)
"""Width and height of the map in points."""
_NEAR = 0.25
"""A ceiling this share of the shown width beyond its end is still brought into the picture."""
_LEAST = (7, 5)
"""At least so many values are shown beside and above each other, where the range has them."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A setting that is marked."""

    column: int
    row: int
    words: str


@dataclass(frozen=True, slots=True)
class KnobMap:
    """All that is drawn of two knobs."""

    x: Axis
    y: Axis
    study_line: tuple[str, ...]
    """Which study, what was run, how much of it."""
    others: tuple[str, ...]
    """The other knobs with the values at which runs are drawn full, in words."""
    cells: tuple[Cell, ...]
    between: int
    """Runs between two values, counted at the nearest."""
    unplaced: int
    """Runs that have no place on the axes, left out."""
    x_lines: tuple[Line, ...]
    y_lines: tuple[Line, ...]
    regions: Regions
    risked: Risked
    keep: Spot | None
    pending: tuple[Spot, ...]

    def risky(self, column: int, row: int) -> bool:
        """Whether a cell lies above an everyday ceiling, by its middle."""
        x, y = (axis.middle(cell) for axis, cell in ((self.x, column), (self.y, row)))
        return any(b.left < x < b.right and b.low < y < b.high for b in self.regions.risky)

    @property
    def here(self) -> int:
        """Runs with the other knobs at the study's values."""
        return sum(total(cell.here) for cell in self.cells)

    @property
    def aside(self) -> int:
        """Runs with other knobs elsewhere, or of another workload."""
        return sum(total(cell.aside) for cell in self.cells)


def knob_map(history: History, right: Knob, up: Knob, answers: Searching) -> KnobMap:
    """The map of two knobs as things stand, with the setting to keep from `answers`."""
    definition = history.definition
    search = edge_search(history)
    base = definition.stock if search is None else search.base
    keep = None if search is None else _recommended(search, answers)
    marked = [proposal.settings for proposal in history.pending.values()]
    marked += [] if keep is None else [keep.settings]
    x = _axis(history, right, base, marked, _LEAST[0])
    y = _axis(history, up, base, marked, _LEAST[1])
    counted = counted_runs(history, x, y, base)
    x, y, cells = readable(counted, x, y, ROOM)
    return KnobMap(
        x=x,
        y=y,
        study_line=tuple(study_line(history)),
        others=tuple(others_at(definition, base, right.name, up.name)),
        cells=cells,
        between=counted.between,
        unplaced=counted.unplaced,
        x_lines=lines_of(definition, x),
        y_lines=lines_of(definition, y),
        regions=regions_of(definition, x, y, base),
        risked=risked_runs(history),
        keep=None
        if search is None or keep is None
        else _spot(x, y, keep.settings, _kept(search, keep, right, up)),
        pending=tuple(
            _spot(x, y, p.settings, f"proposed: run {p.number}{_risk(p.at_own_risk)}")
            for p in history.pending.values()
        ),
    )


def _recommended(search: EdgeSearch, answers: Searching) -> Recommendation | None:
    """The setting to keep; None before the first run, and where none is likely to hold."""
    if not search.history.evidence:
        return None
    found = answers.recommendation(search.history, False)
    return found if found.holds else None


def _kept(search: EdgeSearch, found: Recommendation, right: Knob, up: Knob) -> str:
    value = float(found.settings[search.knob.name])
    seen = replace(search, base=found.settings).passed_at_or_above(value)
    word = best_word(seen, found.pass_probability, search.history.definition.goal.target)
    values = ", ".join(knob.show(found.settings[knob.name]) for knob in (right, up))
    return f"{word}: {values}{_risk(found.at_own_risk)}"


def _risk(names: tuple[str, ...]) -> str:
    return ", AT YOUR OWN RISK" if names else ""


def _spot(x: Axis, y: Axis, setting: Setting, words: str) -> Spot:
    across = place_of(x.knob, setting[x.knob.name])
    above = place_of(y.knob, setting[y.knob.name])
    assert across is not None, "it was proposed on the grid"
    assert above is not None, "it was proposed on the grid"
    return Spot(x.cell(index_of(across)), y.cell(index_of(above)), words)


def _axis(
    history: History, knob: Knob, base: Setting, marked: Iterable[Setting], least: int
) -> Axis:
    """As much of the knob as holds runs and marks, near ceilings, and a value around them."""
    values = {run.ran[knob.name] for run in history.evidence}
    values |= {base[knob.name], *(setting[knob.name] for setting in marked)}
    places = [place for value in values if (place := place_of(knob, value)) is not None]
    first, last = index_of(min(places)), index_of(max(places))
    border = _border(history, knob)
    if not history.evidence or knob.grid is None:
        return Axis(knob, min(first, 0), max(last, size_of(knob) - 1), border)
    reach = int(_NEAR * max(last - first, least))
    for line in lines_of(history.definition, Axis(knob, first - reach, last + reach + 1)):
        first, last = min(first, int(line.place - 0.5)), max(last, int(line.place + 0.5))
    pad = max(1, -(-(least - (last - first + 1)) // 2))
    low, high = min(first, 0), max(last, size_of(knob) - 1)
    return Axis(knob, max(first - pad, low), min(last + pad, high), border)


def _border(history: History, knob: Knob) -> int:
    """Place of the first value above the everyday ceiling; 0 where there is none."""
    everyday = history.definition.guarded[knob.name].everyday if knob.grid else None
    if knob.grid is None or everyday is None:
        return 0
    return floor(round((everyday - knob.grid.low) / knob.grid.step, 6)) + 1
