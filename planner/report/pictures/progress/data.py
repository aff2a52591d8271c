"""What the picture of an evening's progress shows, gathered from the history and frozen."""

from dataclasses import dataclass

from planner.domain.knob import Knob
from planner.history import History
from planner.models.edge_over_time import edge_over_time
from planner.models.edge_search import EdgeSearch
from planner.models.evidence import observations
from planner.report.pictures.ceilings import Bound, bounds_of, with_near_bounds
from planner.report.pictures.progress.milestones import Told, told_between
from planner.report.pictures.progress.runs import (
    Lost,
    Placed,
    Tried,
    best_runs,
    gathered,
    lost_on,
    placed_runs,
)
from planner.report.pictures.progress.scores import Scores, scores_of
from planner.report.pictures.risked import Risked, risked_runs
from planner.report.pictures.searched import shown_search, traced_along
from planner.report.pictures.words import others_at, short, study_line

_POINTS = 60
"""The edge is told at about so many points in time."""
_MARGIN = 0.06
"""Share of what is shown that is added at either end, so that no mark sits on the frame."""
_LEAST_STEPS = 6.0
"""At least so many steps of the knob are shown."""

Steps = tuple[tuple[float, float], ...]
"""From how many minutes on which value counts, in order."""


@dataclass(frozen=True, slots=True)
class Band:
    """The edge's interval from some minute on, in the knob's unit, its lower end first."""

    minutes: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Progress:
    """All that is drawn of an evening; values in the knob's unit, times in bench minutes."""

    knob: Knob
    study_line: tuple[str, ...]
    """Which study, what was run, how much of it."""
    others: tuple[str, ...]
    """The other knobs with the values that the edge is told for, in words."""
    place: str
    """Beside what the edge is told, in words."""
    runs: int
    minutes: float
    tried: tuple[Tried, ...]
    """The runs, by time, value and ending."""
    unplaced: int
    """Runs at a word instead of a value."""
    gathered: float | None
    """Minutes whose runs share a mark where there are many; None: each run has its own."""
    band: tuple[Band, ...]
    every: int
    """After every how many runs the interval is told."""
    speaking: bool
    """Whether any run tells of the edge at those values."""
    best: Steps
    """The hardest value at which a nominal run had held."""
    held_at: str
    """Where the last of them held, in words."""
    risked: bool
    """Whether that value lies above an everyday ceiling."""
    at_risk: Risked
    scores: Scores | None
    told: tuple[Told, ...]
    """What else was told between the runs."""
    lost: Lost
    bounds: tuple[Bound, ...]
    shown: tuple[float, float]
    """Hardness at the lower and the upper end, in steps."""

    @property
    def aside(self) -> int:
        """Runs beside other values of the other knobs, or of another workload."""
        return sum(mark.count for mark in self.tried if mark.aside)

    def up(self, value: float) -> float:
        """How far up a value is drawn: 0 at the lower end, 1 at the upper."""
        low, high = self.shown
        return (self.knob.hardness(value) - low) / (high - low)


def progress(history: History) -> Progress | None:
    """The evening so far; None where no knob has a range."""
    search = shown_search(history)
    if search is None:
        return None
    knob, definition = search.knob, history.definition
    placed = placed_runs(search)
    tried, width = gathered(placed, knob, history.minutes_spent)
    band, every = _band(search)
    best, along = best_runs(placed, knob), traced_along(history)
    bounds = bounds_of(definition, knob, search.base)
    return Progress(
        knob=knob,
        study_line=tuple(study_line(history)),
        others=(*others_at(definition, search.base, knob.name), *_apart(along)),
        place=_place(along, search),
        runs=len(history.evidence),
        minutes=history.minutes_spent,
        tried=tried,
        unplaced=len(history.evidence) - len(placed),
        gathered=width,
        band=band,
        every=every,
        speaking=any(not run.aside for run in placed)
        or bool(observations(history, knob, search.base)),
        best=tuple((run.minutes, run.value) for run in best),
        held_at=_held_at(along, search, best),
        risked=bool(best and search.gate.at_own_risk(search.setting(best[-1].value))),
        at_risk=risked_runs(history),
        scores=scores_of(history),
        told=told_between(history),
        lost=lost_on(history),
        bounds=bounds,
        shown=with_near_bounds(knob, bounds, _shown(knob, placed, band[-1])),
    )


def _place(along: Knob | None, search: EdgeSearch) -> str:
    if along is None:
        return "beside the study's other values"
    return f"at {short(along.name)} {along.show(search.base[along.name])}"


def _apart(along: Knob | None) -> list[str]:
    if along is None:
        return []
    return [f"The interval is of that {short(along.name)} by itself, the frontier's of all at once"]


def _held_at(along: Knob | None, search: EdgeSearch, best: tuple[Placed, ...]) -> str:
    """Of a frontier alone: where, and for which other value of its second knob that speaks."""
    if along is None or not best or best[-1].along is None:
        return ""
    words = f" at {short(along.name)} {along.show(best[-1].along)}"
    here = search.base[along.name]
    return words if best[-1].along == here else f"{words}, which speaks for {along.show(here)}"


def _band(search: EdgeSearch) -> tuple[tuple[Band, ...], int]:
    history, knob = search.history, search.knob
    spent = [0.0]
    for run in history.evidence:
        spent.append(spent[-1] + run.minutes)
    band = []
    for known in edge_over_time(history, knob, search.base, _POINTS):
        low, high = sorted(knob.at_hardness(end) for end in known.interval)
        band.append(Band(spent[known.runs], low, high))
    return tuple(band), max(1, -(-len(history.evidence) // _POINTS))


def _shown(knob: Knob, placed: tuple[Placed, ...], now: Band) -> tuple[float, float]:
    """Where the runs and the interval as it stands lie, in steps; before any run the range."""
    assert knob.grid is not None, knob.name
    steps = float(knob.grid.size - 1)
    ends = [min(max(knob.hardness(end), 0.0), steps) for end in (now.low, now.high)]
    places = [*ends, *{knob.hardness(run.value) for run in placed}]
    places += [] if placed else [0.0, steps]
    low, high = min(places), max(places)
    pad = max(_LEAST_STEPS - (high - low), 0.0) / 2 + _MARGIN * (high - low)
    return low - pad, high + pad
