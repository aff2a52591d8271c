"""A study's runs as Optuna's trials.

A failure is a complete trial whose constraint `held` is violated, never a failed one: samplers
pass over failed trials, and would ask for what crashed again and again. What says nothing of the
value that is maximised (void, stopped, a pass without a score in a study that is after one) is a
failed trial. The whole row of the run table goes with each trial, so nothing is lost on the way
back.
"""

from collections.abc import Callable, Iterable, Mapping

from optuna.distributions import BaseDistribution, CategoricalDistribution, FloatDistribution
from optuna.trial import FrozenTrial, TrialState, create_trial

from planner.domain.definition import Definition
from planner.domain.grid import Grid
from planner.domain.knob import Value
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.domain.tables import Aim
from planner.history import History
from planner.holding.wishes import pace_of, thrift_of
from planner.report.tables.runs import run_table

ROW = "planner"
"""Key of a trial's user attribute with the row's filled cells by heading."""
Worth = Callable[[Run], float | None]
"""What is maximised of a run that passed or failed; None where it has none."""
HELD = "held"
"""The constraint: above 0 where the setting did not hold."""


def trials_of(history: History) -> list[FrozenTrial]:
    """One trial a run, in order of recording."""
    table = run_table(history)
    rows = [dict(zip(table.headings, cells, strict=True)) for cells in table.rows]
    choices = {
        name: _choices(knob.choices, (run.ran[name] for run in history.runs))
        for name, knob in history.definition.knobs.items()
        if knob.grid is None
    }
    worth = _worth(history)
    return [
        _trial(history.definition, run, worth, {h: c for h, c in row.items() if c}, choices)
        for run, row in zip(history.runs, rows, strict=True)
    ]


def _trial(
    definition: Definition,
    run: Run,
    worth: Worth,
    row: Mapping[str, str],
    choices: Mapping[str, tuple[str, ...]],
) -> FrozenTrial:
    held_or_failed = run.outcome.failed or run.outcome is Outcome.PASS
    value = worth(run) if held_or_failed else None
    distributions: dict[str, BaseDistribution] = {
        name: _range(knob.grid, run.ran[name])
        if knob.grid is not None
        else CategoricalDistribution(choices[name])
        for name, knob in definition.knobs.items()
    }
    return create_trial(
        state=TrialState.FAIL if value is None else TrialState.COMPLETE,
        value=value,
        params={name: run.ran[name] for name in distributions},
        distributions=distributions,
        user_attrs={ROW: dict(row)},
        constraints=None if value is None else {HELD: 1.0 if run.outcome.failed else -1.0},
    )


def _worth(history: History) -> Worth:
    """What is maximised: the score where the study is after one, else what its aim goes by."""
    definition = history.definition
    knob, aim = definition.searched, definition.goal.aim
    if aim.one_knob:
        return lambda run: None if knob is None else knob.hardness(float(run.ran[knob.name]))
    scores = definition.workload.scored or any(run.score is not None for run in history.runs)
    if aim is Aim.PEAK or (aim is Aim.EVERYDAY and scores):
        return lambda run: 0.0 if run.outcome.failed else run.best_score
    wish = thrift_of(definition) if aim is Aim.TRIM else pace_of(definition)
    return lambda run: float(wish.predict(wish.coordinates([run.ran]))[0][0])


def _range(grid: Grid, ran: Value) -> FloatDistribution:
    """The knob's range and step; where a run lay off them, what holds it too."""
    value = float(ran)
    on_step = abs((value - grid.low) / grid.step - round((value - grid.low) / grid.step)) < 1e-9
    if grid.low <= value <= grid.high and on_step:
        return FloatDistribution(grid.low, grid.high, step=grid.step)
    return FloatDistribution(min(grid.low, value), max(grid.high, value))


def _choices(listed: Iterable[Value], ran: Iterable[Value]) -> tuple[str, ...]:
    """The choices of a knob, and those that runs speak of: Optuna wants the same in all trials."""
    return tuple(dict.fromkeys(map(str, (*listed, *ran))))
