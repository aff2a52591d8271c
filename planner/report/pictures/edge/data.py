"""What the picture of one knob's edge shows, gathered from the search and frozen."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from planner.domain.knob import Knob
from planner.models.edge_search import EdgeSearch
from planner.models.evidence import Observation, observations
from planner.models.findings import Recommendation, recommend
from planner.models.pass_curve import PassCurve, pass_curve
from planner.report.pictures.ceilings import Bound, bounds_of, with_near_bounds
from planner.report.pictures.words import others_at, study_line
from planner.stopping import kept

_ALL_BUT = 0.98
"""The edge lies inside the part of the range that is shown with this probability."""
_MARGIN = 0.06
"""Share of what is shown that is added at either end, so that no mark sits on the frame."""
_LEAST_STEPS = 6.0
"""At least so many steps of the knob are shown."""


class Kind(Enum):
    """What a mark stands for; each has its own shape."""

    PASSED = "passed"
    STOPPED = "held, but not for a nominal run"
    FAILED = "failed"
    ERRORS = "errors counted"

    @property
    def held(self) -> bool:
        """Whether the setting held."""
        return self in (Kind.PASSED, Kind.STOPPED)


@dataclass(frozen=True, slots=True)
class Mark:
    """Runs of one kind at one value."""

    value: float
    """In the knob's unit."""
    kind: Kind
    count: int


@dataclass(frozen=True, slots=True)
class EdgePicture:
    """All that is drawn of one knob's edge; values in the knob's unit."""

    knob: Knob
    study_line: tuple[str, ...]
    """Which study, what was run, how much of it."""
    others: tuple[str, ...]
    """The other knobs with the values that they stood at, in words."""
    runs: int
    """Runs on record that count, whether or not they speak of this edge."""
    target: float
    """Probability with which a nominal run passes at the edge."""
    edge: float
    """Median of the edge; it and the interval may lie beyond the range."""
    interval: tuple[float, float]
    """Credible interval of the edge, its lower end first."""
    curve: PassCurve
    marks: tuple[Mark, ...]
    """Runs that speak of this edge, easiest value first."""
    best: float | None
    """The value to keep as things stand; None where none is likely to hold."""
    borne_out: bool
    """Whether a run has held at the best value or harder."""
    recommendation: Recommendation
    bounds: tuple[Bound, ...]
    """Ceilings, wherever they lie, the lowest of each kind."""
    accepted: float | None
    """Up to where the person accepted the risk for this knob."""
    shown: tuple[float, float]
    """Hardness at the left and the right end of the picture, in steps."""

    @property
    def speaking(self) -> int:
        """Runs that speak of this edge; 0: all that is drawn is the prior."""
        return sum(mark.count for mark in self.marks)

    def across(self, value: float) -> float:
        """How far to the right a value is drawn: 0 at the picture's left end, 1 at its right."""
        low, high = self.shown
        return (self.knob.hardness(value) - low) / (high - low)


def edge_picture(search: EdgeSearch) -> EdgePicture:
    """The picture of the searched knob as things stand."""
    history, knob, definition = search.history, search.knob, search.history.definition
    recommendation = recommend(search, kept(search) if search.values else None)
    best = float(recommendation.settings[knob.name]) if recommendation.holds else None
    marks = marks_of(knob, observations(history, knob, search.base))
    bounds = bounds_of(definition, knob, search.base)
    shown = with_near_bounds(knob, bounds, _shown(search, marks, best))
    low, high = sorted(knob.at_hardness(end) for end in search.posterior.interval())
    return EdgePicture(
        knob=knob,
        study_line=tuple(study_line(history)),
        others=tuple(others_at(definition, search.base, knob.name)),
        runs=len(history.evidence),
        target=search.posterior.grid.target,
        edge=knob.at_hardness(search.posterior.quantile(0.5)),
        interval=(low, high),
        curve=pass_curve(search.posterior, *shown),
        marks=marks,
        best=best,
        borne_out=best is not None and search.passed_at_or_above(best),
        recommendation=recommendation,
        bounds=bounds,
        accepted=history.accepted.get(knob.name),
        shown=shown,
    )


def marks_of(knob: Knob, seen: Mapping[Observation, int]) -> tuple[Mark, ...]:
    """Runs that speak of the knob, counted by value and kind, easiest value first."""
    counted: dict[tuple[float, Kind], int] = {}
    for observation, times in seen.items():
        place = (round(observation.hardness, 9), _kind(observation))
        counted[place] = counted.get(place, 0) + times
    ordered = sorted(counted.items(), key=lambda item: (item[0][0], item[0][1].value))
    return tuple(
        Mark(round(knob.at_hardness(hardness), 9), kind, count)
        for (hardness, kind), count in ordered
    )


def _kind(seen: Observation) -> Kind:
    if seen.errors:
        return Kind.ERRORS
    if seen.failed_by is not None:
        return Kind.FAILED
    return Kind.PASSED if seen.held >= 1 - 1e-9 else Kind.STOPPED


def _shown(search: EdgeSearch, marks: tuple[Mark, ...], best: float | None) -> tuple[float, float]:
    """Where the runs, the best value and most of the edge's probability lie, in steps."""
    knob = search.knob
    assert knob.grid is not None, knob.name
    steps = float(knob.grid.size - 1)
    places = [min(max(end, 0.0), steps) for end in search.posterior.interval(_ALL_BUT)]
    places += [knob.hardness(mark.value) for mark in marks]
    places += [] if best is None else [knob.hardness(best)]
    low, high = min(places), max(places)
    pad = max(_LEAST_STEPS - (high - low), 0.0) / 2 + _MARGIN * (high - low)
    return low - pad, high + pad
