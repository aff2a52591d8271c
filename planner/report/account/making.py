"""The runs one after another: what was turned, and what each of them changed."""

from collections.abc import Iterator, Mapping
from math import inf

from planner.domain.knob import Knob, Setting
from planner.domain.outcome import Outcome
from planner.domain.run import Change, Run
from planner.domain.tables import Aim
from planner.history import History
from planner.models.edge_over_time import edge_over_time
from planner.models.edge_search import EdgeSearch
from planner.report.account.nouns import Interval, Made
from planner.report.pictures.progress.milestones import told_between

MOST = 200
"""With more runs than this, the edge is told after some of them only."""
_WORDS = 200
"""Characters of what a person wrote about a change."""
Blames = Mapping[int, Mapping[str, float]]
"""Of failed runs, by number, the share of each knob."""


def made_runs(history: History, search: EdgeSearch | None, blames: Blames) -> tuple[Made, ...]:
    """Every run in order; `search`: whose knob's edge is followed."""
    edges = {} if search is None else _edges(history, search)
    told, hardest = _told(history), _Hardest(history)
    found, counted, best, before = [], 0, -inf, history.definitions[0].stock
    for run in history.runs:
        says = run.outcome is not Outcome.VOID
        words = told.pop(counted, ())
        score = run.best_score if run.workload == history.definition.workload.name else None
        rises = score is not None and score > best
        found.append(
            Made(
                run=run,
                definition=history.definitions[run.definition],
                turned=_turned(history, run, before),
                told=words,
                beaten=best if rises and best > -inf else None,
                first_score=rises and best == -inf,
                hardest=hardest.risen(run) if says else (),
                edge=_changed(edges, counted) if says else None,
                shares=blames.get(run.number, {}),
            )
        )
        best = score if rises and score is not None else best
        counted += says
        before = run.settings
    return tuple(found)


def told_at_the_end(history: History) -> tuple[str, ...]:
    """What was told after the last run that counts."""
    return _told(history).get(len(history.evidence), ())


def _told(history: History) -> dict[int, tuple[str, ...]]:
    """What was told between the runs, by how many runs that count had been made."""
    found: dict[int, tuple[str, ...]] = {}
    for mark in told_between(history, _WORDS):
        found[mark.after] = (*found.get(mark.after, ()), mark.words)
    return found


def _turned(history: History, run: Run, before: Setting) -> tuple[Change, ...]:
    knobs = history.definitions[run.definition].knobs
    return tuple(
        Change(name, before[name], value, knobs[name].unit)
        for name, value in run.settings.items()
        if name in knobs and before.get(name, value) != value
    )


def _edges(history: History, search: EdgeSearch) -> dict[int, Interval]:
    """The edge's interval after so many runs that count, in the knob's unit."""
    found = {}
    for known in edge_over_time(history, search.knob, search.base, MOST):
        low, high = sorted(search.knob.at_hardness(end) for end in known.interval)
        found[known.runs] = (low, high)
    return found


def _changed(edges: Mapping[int, Interval], counted: int) -> tuple[Interval, Interval] | None:
    before, after = edges.get(counted), edges.get(counted + 1)
    return None if before is None or after is None or before == after else (before, after)


class _Hardest:
    """How hard a value has held so far, of every knob that can fail a run."""

    def __init__(self, history: History) -> None:
        self._knobs = dict(_failing(history))
        self._steps: dict[str, float] = {}

    def risen(self, run: Run) -> tuple[str, ...]:
        """Knobs that this run held at a harder value than any before it; of the first run none."""
        if not run.outcome.held:
            return ()
        found = []
        for name, knob in self._knobs.items():
            value = run.ran.get(name)
            if value is None or isinstance(value, str):
                continue
            steps, known = knob.hardness(value), self._steps.get(name)
            if known is None or steps > known:
                self._steps[name] = steps
                found += [] if known is None else [f"{name} {knob.show(value)}"]
        return tuple(found)


def _failing(history: History) -> Iterator[tuple[str, Knob]]:
    """The searched knob; of a search over many each that is no support, or each that is trimmed."""
    definition = history.definition
    searched, aim = definition.searched, definition.goal.aim
    for name, knob in definition.knobs.items():
        wanted = knob.lifts_voltage if aim is Aim.TRIM else not knob.supports
        if knob is searched if aim.one_knob else wanted and knob.grid is not None:
            yield name, knob
