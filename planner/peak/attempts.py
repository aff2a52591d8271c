"""What attempts cost by how they end: dialling, run, recovery after either failure."""

from dataclasses import dataclass

import numpy as np

from planner.domain.dialling import dial_minutes, recovery_minutes
from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.history import History
from planner.models.costs import USUAL_FAILURE
from planner.models.hazard import Array
from planner.peak.space import Rows, Space


@dataclass(frozen=True)
class Attempts:
    """Minutes of one attempt at each of some settings, shapes (m,)."""

    dial: Array
    length: float
    """Of the run, where it holds."""
    crash: float
    """Of the run and the restart, where it fails."""
    dead: float
    """Until the machine is back, where it does not start."""

    def expected(self, starts: Array | float, holds: Array | float) -> Array:
        """By the chances to start, and to start and hold, shape (m,)."""
        return np.asarray(
            self.dial
            + holds * self.length
            + (starts - holds) * self.crash
            + (1 - starts) * self.dead
        )


def attempts_at(history: History, space: Space, rows: Rows) -> Attempts:
    """Nominal runs of rows, from what the machine holds."""
    dial = space.dial_minutes(rows, history.machine, history.restarting)
    length = history.definition.workload.minutes
    return Attempts(
        dial,
        length,
        failing(history, length),
        recovery_minutes(history.definition, Outcome.NO_START),
    )


def failing(history: History, length: float) -> float:
    """Minutes of a run of so many that fails when runs usually do, with the restart after it."""
    return USUAL_FAILURE * length + recovery_minutes(history.definition, Outcome.CRASH)


def anew(history: History, setting: Setting) -> float:
    """Minutes of a nominal run at a setting that is dialled in from stock."""
    definition = history.definition
    return dial_minutes(definition, definition.stock, setting) + definition.workload.minutes
