"""Optuna's trials as a run table, which `planner import` checks like any other."""

from collections.abc import Mapping, Sequence

from optuna.trial import FrozenTrial, TrialState

from planner.domain.outcome import Outcome
from planner.errors import InputError
from planner.exchange.writing import ROW
from planner.report.tables.runs import RunTable
from planner.run_table import guarded, number_text

_ENDED = (TrialState.COMPLETE, TrialState.PRUNED, TrialState.FAIL)
_MOST_CELLS = 1000


def table_of(study: str, trials: Sequence[FrozenTrial]) -> RunTable:
    """A row for each trial that has ended: as it was exported, or as Optuna tells it.

    A violated constraint is a crash. A trial that failed or was pruned says nothing of the
    setting: void. The parameters are taken for knobs of the same names, the value for the score.

    Raises:
        InputError: none has ended, or the row that goes with one is no row.
    """
    rows = [_row(study, trial) for trial in trials if trial.state in _ENDED]
    if not rows:
        raise InputError(f"study {study!r}: holds no trial that has ended, expected at least one")
    headings = tuple(dict.fromkeys(heading for row in rows for heading in row))
    return RunTable(headings, tuple(tuple(row.get(h, "") for h in headings) for row in rows))


def _row(study: str, trial: FrozenTrial) -> Mapping[str, str]:
    row = trial.user_attrs.get(ROW)
    if row is None:
        return _told(study, trial)
    if (
        not isinstance(row, dict)
        or len(row) > _MOST_CELLS
        or not all(isinstance(cell, str) for cell in row.values())
    ):
        raise InputError(f"trial {trial.number}: its {ROW!r} attribute is no row of a run table")
    return {str(heading): cell for heading, cell in row.items()}


def _told(study: str, trial: FrozenTrial) -> Mapping[str, str]:
    complete = trial.state is TrialState.COMPLETE
    crashed = any(value > 0 for value in trial.constraints.values())
    outcome = (Outcome.CRASH if crashed else Outcome.PASS) if complete else Outcome.VOID
    ended = trial.datetime_complete
    told = {
        "run": str(trial.number + 1),
        "time": "" if ended is None else ended.isoformat(timespec="seconds"),
        "bench": guarded(f"optuna {study}"),
        "outcome": outcome.value,
    }
    if complete and not crashed and trial.value is not None:
        told["score"] = number_text(trial.value)
    for name, value in trial.params.items():
        plain = isinstance(value, (int, float)) and not isinstance(value, bool)
        told[f"set {name}"] = number_text(float(value)) if plain else guarded(str(value))
    return told
