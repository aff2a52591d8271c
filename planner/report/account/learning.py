"""What was learnt about each knob: what held, what failed, what it is blamed for, what it pays."""

from collections.abc import Iterable, Mapping
from math import expm1

from planner.domain.knob import Harder, Knob, Setting, Value
from planner.domain.run import Run
from planner.history import History
from planner.models.edge import LEVEL
from planner.models.findings import Edge
from planner.models.joint.response import Response, response_of
from planner.report.account.making import Blames
from planner.report.account.nouns import Learnt, Pays
from planner.report.pictures.progress.runs import MANY

_TAIL = 1.645
"""Standard deviations to either end of a normal 90 % interval."""


def learnt_of(
    history: History, keep: Setting, edges: Mapping[str, Edge], blames: Blames
) -> tuple[Learnt, ...]:
    """Every knob of the study as it is now; `keep`: the setting to keep."""
    response = _response(history)
    return tuple(
        _learnt(history, knob, keep, edges.get(name), blames, response)
        for name, knob in history.definition.knobs.items()
    )


def _response(history: History) -> Response | None:
    """How the score answers to all knobs at once, of a search over many."""
    scored = sum(run.best_score is not None for run in history.evidence)
    many = not history.definition.goal.aim.one_knob
    return response_of(history) if many and 1 < scored <= MANY else None


def _learnt(
    history: History,
    knob: Knob,
    keep: Setting,
    edge: Edge | None,
    blames: Blames,
    response: Response | None,
) -> Learnt:
    runs = history.evidence
    return Learnt(
        knob=knob,
        kept=keep[knob.name],
        values=len({run.ran[knob.name] for run in runs}),
        held=_extreme(knob, [run for run in runs if run.outcome.held], hardest=True),
        failed=_extreme(knob, [run for run in runs if run.outcome.failed], hardest=False),
        passes=_passes(knob, runs) if knob.harder is Harder.CHOICE else {},
        edge=edge if edge is not None and edge.runs else None,
        blamed=sum(share.get(knob.name, 0.0) for share in blames.values()) if blames else None,
        pays=None if response is None else _pays(response, knob, keep),
    )


def _extreme(knob: Knob, runs: Iterable[Run], hardest: bool) -> tuple[Value, int] | None:
    """The hardest or the easiest value among runs, and the first run there."""
    if knob.grid is None:
        return None
    sign = -1 if hardest else 1
    places = [
        (sign * knob.hardness(value), run.number, value)
        for run in runs
        if not isinstance(value := run.ran[knob.name], str)
    ]
    if not places:
        return None
    _, number, value = min(places)
    return value, number


def _passes(knob: Knob, runs: Iterable[Run]) -> dict[Value, tuple[int, int]]:
    found: dict[Value, tuple[int, int]] = {}
    for run in runs:
        held, count = found.get(run.ran[knob.name], (0, 0))
        found[run.ran[knob.name]] = (held + run.outcome.held, count + 1)
    return found


def _pays(response: Response, knob: Knob, keep: Setting) -> Pays | None:
    """From stock to the value to keep; where that is stock, one step harder."""
    if knob not in response.knobs or isinstance(knob.stock, str):
        return None
    before, after = knob.stock, keep[knob.name]
    if after == before:
        place = knob.values.index(before) + 1 if before in knob.values else len(knob.values)
        if place >= len(knob.values):
            return None
        after = knob.values[place]
    rows = response.coordinates([{**keep, knob.name: value} for value in (before, after)])
    mean, sd = (float(each[0]) for each in response.rise(rows[1:], rows[:1]))
    low, high = (expm1(mean + end * _TAIL * sd) for end in (-1, 1))
    return Pays(before, after, expm1(mean), (low, high), LEVEL)
