"""What each run says about one knob, the others standing still."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Setting, Value
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.domain.tables import Workload
from planner.history import History

FADED = 0.3
"""Weight left to a run from before a told change (firmware, remount)."""
_EARLY, _LATE = 0.03, 0.3
"""Times to failure are told apart only as the first 3 %, up to 30 % and the rest of a run:
an instant crash reads the same however far past the edge it was."""


@dataclass(frozen=True, slots=True)
class Observation:
    """What one run says; times are shares of a nominal run."""

    hardness: float
    """Steps from the easiest value towards failure."""
    held: float
    """How long it held for certain."""
    failed_by: float | None
    """When it had failed at the latest; None: it held."""
    length: float = 1.0
    """The run's length."""
    errors: int = 0
    """Counted errors of a run that is told by its count."""
    weight: float = 1.0


def observations(history: History, knob: Knob, others: Mapping[str, Value]) -> Counter[Observation]:
    """What the runs say of `knob` at the values of the other knobs, and how many say it.

    A run beside harder others that held, or beside easier others that failed, says as much
    or less than it would have at `others`, and counts; the converse does not.
    """
    definition, workload = history.definition, history.definition.workload
    beside = [name for name in others if name != knob.name]
    there = [others[name] for name in beside]
    weights = [_weight(history, epoch, knob) for epoch in range(len(history.changes) + 1)]
    alike: Counter[tuple[object, ...]] = Counter()
    first: dict[tuple[object, ...], Run] = {}
    for run in history.evidence:
        ran = run.ran
        if [ran[name] for name in beside] != there and not _comparable(
            definition, knob, run, others
        ):
            continue
        key: tuple[object, ...] = (
            ran[knob.name],
            run.outcome,
            run.workload,
            run.run_minutes,
            run.epoch,
            failed_part(run),
            run.errors,
        )
        alike[key] += 1
        if alike[key] == 1:
            first[key] = run
    counted: Counter[Observation] = Counter()
    for alike_key, run in first.items():
        value = run.ran[knob.name]
        if not isinstance(value, str):
            seen = _observe(run, knob.hardness(value), workload, weights[run.epoch])
            if seen is not None:
                counted[seen] += alike[alike_key]
    return counted


def failed_part(run: Run) -> tuple[float, float] | None:
    """Which part of the run it failed in, as shares of its length; None: not told."""
    if run.failed_after_s is None:
        return None
    share = run.failed_after_s / 60 / run.run_minutes
    if share <= _EARLY:
        return 0.0, _EARLY
    return (_EARLY, _LATE) if share <= _LATE else (_LATE, 1.0)


def _observe(run: Run, hardness: float, workload: Workload, weight: float) -> Observation | None:
    if run.outcome is Outcome.NO_START:
        return Observation(hardness, 0.0, _EARLY, weight=weight)
    if run.workload != workload.name:
        return None
    length = run.run_minutes / workload.minutes
    if run.outcome.held:
        settled = run.run_minutes >= min(workload.settle_minutes, workload.minutes)
        return Observation(hardness, length, None, weight=weight) if settled else None
    if run.outcome is Outcome.ERRORS:
        return Observation(hardness, length, length, errors=_class(run.errors), weight=weight)
    part = failed_part(run)
    if part is None:
        return Observation(hardness, 0.0, length, length, weight=weight)
    lower, upper = part
    return Observation(hardness, lower * length, upper * length, length, weight=weight)


def _class(errors: int | None) -> int:
    return 1 if not errors or errors == 1 else 2 if errors < 10 else 10


def _weight(history: History, epoch: int, knob: Knob) -> float:
    later = history.changes[epoch:]
    touched = any(not c.groups or not knob.group or knob.group in c.groups for c in later)
    return FADED if touched else 1.0


def _comparable(definition: Definition, knob: Knob, run: Run, others: Mapping[str, Value]) -> bool:
    harder = easier = False
    ran: Setting = run.ran
    for name, other in definition.knobs.items():
        here, there = others[name], ran.get(name, other.stock)
        if name == knob.name or here == there:
            continue
        if other.harder is Harder.CHOICE or isinstance(here, str) or isinstance(there, str):
            return False
        if (there > here) == (other.harder is Harder.UP):
            harder = True
        else:
            easier = True
    if harder and easier:
        return False
    return not (harder and run.outcome.failed) and not (easier and run.outcome.held)
