"""Minutes that a person spends around a run: dialling in, restarts, recovery."""

from collections.abc import Mapping

from planner.domain.definition import Definition
from planner.domain.knob import Setting, Value, Where
from planner.domain.outcome import Outcome

NO_START_RESTARTS = 4.0
"""A failure to start costs this many restarts: clearing the firmware and dialling in anew
(common practice, no source)."""


def dial_minutes(
    definition: Definition,
    before: Mapping[str, Value],
    after: Mapping[str, Value],
    restarting: bool = False,
) -> float:
    """Minutes to bring the machine from one complete setting to another.

    A restart into the firmware is included unless the machine is `restarting` anyway.
    """
    minutes = restart = 0.0
    for name, change_minutes, restart_minutes in definition.dialling:
        if before.get(name) != after.get(name):
            minutes += change_minutes
            restart = max(restart, restart_minutes)
    return minutes if restarting else minutes + restart


def recovery_minutes(definition: Definition, outcome: Outcome) -> float:
    """Minutes until the machine is ready again after a run that ended so."""
    restart = definition.rig.reboot_minutes
    if outcome is Outcome.NO_START:
        return NO_START_RESTARTS * restart
    return restart if outcome.restarts else 0.0


def run_minutes_spent(outcome: Outcome, run_minutes: float, failed_after_s: float | None) -> float:
    """Minutes that the workload itself took."""
    if outcome is Outcome.NO_START:
        return 0.0
    if outcome.failed and failed_after_s is not None:
        return min(failed_after_s / 60, run_minutes)
    return run_minutes


def after_run(definition: Definition, outcome: Outcome, held: Setting) -> Setting:
    """What the machine holds after a run.

    Live changes are lost when it restarts, and a failure to start often puts the firmware back
    at stock (common practice, no source).
    """
    if outcome is Outcome.NO_START:
        return dict(definition.stock)
    return after_restart(definition, held) if outcome.restarts else held


def after_restart(definition: Definition, held: Setting) -> Setting:
    """What the machine holds after a restart."""
    if not definition.live and held.keys() == definition.knobs.keys():
        return held
    return {
        name: knob.stock if knob.where is Where.LIVE else held.get(name, knob.stock)
        for name, knob in definition.knobs.items()
    }
