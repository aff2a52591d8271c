"""What the picture of a frontier shows, gathered from the search and frozen."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from planner import tracing
from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting
from planner.gate import above_everyday
from planner.models.edge_search import EdgeSearch
from planner.models.findings import Recommendation, recommend
from planner.models.frontier.findings import FrontierPoint
from planner.models.frontier.search import FrontierSearch
from planner.report.pictures.frontier.fences import Fences, fences_of, is_past_stop
from planner.report.pictures.frontier.marks import Marks, marks_of, spaced
from planner.report.pictures.frontier.panel import Panel
from planner.report.pictures.frontier.placing import Placed, placed
from planner.report.pictures.risked import Risked, risked_runs
from planner.report.pictures.words import others_at, study_line
from planner.stopping import kept

_MARGIN = 0.05
"""Share of what is shown that is added at either end, so that no mark sits on the frame."""
_LEAST_STEPS = 6
"""At least so many steps of each knob are shown."""
_NEAR = 0.3
"""A ceiling this share of the shown width above its end is still brought into the picture."""
_PAST_STOP = 0.035
"""Share of what is shown that is left beyond a hard stop."""


@dataclass(frozen=True, slots=True)
class Keep:
    """The point to keep."""

    along: float
    value: float
    found: Recommendation
    borne_out: bool
    """Whether a nominal run has held there, or where it says the same."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A proposal without an answer yet."""

    along: float
    value: float
    number: int
    at_own_risk: bool


@dataclass(frozen=True, slots=True)
class FrontierPicture:
    """All that is drawn of a frontier; values in the units of the knobs."""

    study_line: tuple[str, ...]
    """Which study, what was run, how much of it."""
    others: tuple[str, ...]
    """The other knobs with the values that they stood at, in words."""
    runs: int
    """Runs on record that count."""
    target: float
    """Probability with which a nominal run passes at the edge."""
    level: float
    """Credibility of each station's interval."""
    points: tuple[FrontierPoint, ...]
    """By ascending value of the second knob, risk as of the value to keep there."""
    risked: Risked
    """Runs above an everyday ceiling."""
    past_stop: int
    """Runs past a hard stop, which are not drawn."""
    keep: Keep | None
    everyday: Keep | None
    """The point to keep within everyday, where `keep` is at own risk."""
    marks: Marks
    asked: tuple[Asked, ...]
    fences: Fences
    panel: Panel
    """The second knob across and the searched one up, with what is shown of them."""
    placed: tuple[Placed, ...]
    """The marks as they stand beside each other."""

    @property
    def knob(self) -> Knob:
        """The searched knob."""
        return self.panel.y

    @property
    def along(self) -> Knob:
        """The second knob."""
        return self.panel.x


def frontier_picture(search: FrontierSearch) -> FrontierPicture:
    """The picture of a frontier as things stand."""
    history, knob, along = search.history, search.knob, search.along
    definition, found = history.definition, tracing.found(search)
    points = tuple(
        _at_risk(search, point)
        for point in found.points
        if not is_past_stop(definition.guarded[along.name], point.along)
    )
    best = _keep(tracing.best_point(search))
    tried, past = marks_of(history, knob, along, search.base)
    asked = tuple(_asked(search))
    places = [(mark.along, mark.value) for mark in tried.here]
    places += [(a.along, a.value) for a in asked]
    x_shown = _shown(along, definition, [p.along for p in points] + [x for x, _ in places])
    y_shown = _shown(knob, definition, [*_heights(knob, points), *(y for _, y in places)])
    panel = _under_stops(definition, search.base, Panel(along, knob, x_shown, y_shown))
    marks = spaced(tried, definition, panel)
    return FrontierPicture(
        study_line=tuple(study_line(history)),
        others=tuple(others_at(definition, search.base, knob.name, along.name)),
        runs=len(history.evidence),
        target=found.target,
        level=found.level,
        points=points,
        risked=risked_runs(history),
        past_stop=past,
        keep=best,
        everyday=_everyday(search) if best is not None and best.found.at_own_risk else None,
        marks=marks,
        asked=asked,
        fences=fences_of(definition, search.base, panel),
        panel=panel,
        placed=placed(marks, panel, _end(definition, panel)),
    )


def _at_risk(search: FrontierSearch, point: FrontierPoint) -> FrontierPoint:
    """With everything above its everyday ceiling at the value to keep, the knob's own included."""
    setting = search.beside(point.along)
    if point.kept is not None:
        setting = {**setting, search.knob.name: point.kept}
    return replace(point, at_own_risk=above_everyday(search.history.definition, setting))


def _keep(best: EdgeSearch | None) -> Keep | None:
    value = None if best is None else kept(best)
    if best is None or value is None or not best.history.evidence:
        return None
    along = float(best.base[best.history.definition.goal.along])
    return Keep(along, value, recommend(best, value), best.passed_at_or_above(value))


def _everyday(search: FrontierSearch) -> Keep | None:
    found = _keep(tracing.best_point(search, everyday_only=True))
    return None if found is None or found.found.at_own_risk else found


def _asked(search: FrontierSearch) -> Iterable[Asked]:
    for proposal in search.history.pending.values():
        along, value = _both(search, proposal.settings)
        yield Asked(along, value, proposal.number, bool(proposal.at_own_risk))


def _both(search: FrontierSearch, setting: Setting) -> tuple[float, float]:
    return float(setting[search.along.name]), float(setting[search.knob.name])


def _heights(knob: Knob, points: Iterable[FrontierPoint]) -> Iterable[float]:
    """Where the edges and the values to keep lie, as far as the range goes."""
    assert knob.grid is not None, knob.name
    for point in points:
        for value in (*point.interval, point.edge):
            yield min(max(value, knob.grid.low), knob.grid.high)
        if point.kept is not None:
            yield point.kept


def _end(definition: Definition, panel: Panel) -> float:
    """The second knob's hard stop or, where it is not seen, its last value shown."""
    stop, right = definition.guarded[panel.x.name].hard_stop, panel.x_shown[1]
    return right if stop is None else min(stop, right)


def _under_stops(definition: Definition, base: Setting, panel: Panel) -> Panel:
    """No higher than the highest place that a derived value's hard stop leaves."""
    low, high = panel.y_shown
    shut = fences_of(definition, base, panel).stopped
    top = max((height for _, height in shut), default=high)
    return replace(panel, y_shown=(low, min(high, top + _PAST_STOP * (top - low))))


def _shown(knob: Knob, definition: Definition, values: Iterable[float]) -> tuple[float, float]:
    """From where to where a knob is shown: what is drawn, near ceilings, no farther than a stop."""
    assert knob.grid is not None, knob.name
    ceilings, places = definition.guarded[knob.name], list(values) or [float(knob.stock)]
    low, high = min(places), max(places)
    pad = max(_LEAST_STEPS * knob.grid.step - (high - low), 0.0) / 2
    low, high = low - pad, high + pad
    margin, reach = _MARGIN * (high - low), high + _NEAR * (high - low)
    given = (ceilings.everyday, ceilings.own_risk, ceilings.hard_stop)
    near = [c for c in given if c is not None and high < c <= reach]
    low, high = low - margin, max([high, *near]) + margin
    stop = ceilings.hard_stop
    if stop is not None and low < stop < high:
        high = stop + _PAST_STOP * (stop - low)
    return low, high
