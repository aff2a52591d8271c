"""Two settings against each other: is the gain one, and how many repeats would settle it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, inf, isinf

from planner.domain.run import Run
from planner.errors import InputError
from planner.history import History
from planner.models.scores.scored import Scored, scored_runs, values_of
from planner.trade.scores.gain import (
    Difference,
    from_known_spread,
    least_difference,
    repeats_to_settle,
    welch,
)
from planner.trade.scores.spread import Sample, sample_of

_LEVEL = 0.05
"""A difference that chance alone gives less often is taken for one."""


@dataclass(frozen=True, slots=True)
class Measure:
    """The score or one sub-score on both sides."""

    name: str
    """Empty: the score itself."""
    first: Sample
    second: Sample
    difference: Difference | None
    """None: the run-to-run noise is not known."""
    own_spread: bool
    """Whether each side's own repeats give the spread (Welch); else that of all settings."""
    repeats: int | None
    """Runs on each side that would settle a difference of this size; None: more than anybody makes,
    or the noise is not known."""
    least: float | None
    """The smallest difference that so many runs tell from none."""

    @property
    def real(self) -> bool:
        """Whether chance alone gives so large a difference less than one time in twenty."""
        return self.difference is not None and self.difference.p_value < _LEVEL


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two settings, each named by one of its runs, with all their repeats."""

    workload: str
    first: tuple[Run, ...]
    second: tuple[Run, ...]
    measures: tuple[Measure, ...]

    @property
    def one_after_the_other(self) -> bool:
        """Whether all runs of one side came before all of the other."""
        one, other = ([run.number for run in side] for side in (self.first, self.second))
        return max(one) < min(other) or max(other) < min(one)


def compared(history: History, first: int, second: int) -> Comparison:
    """The settings of two runs.

    Raises:
        InputError: a run that is not there or has no claimable score, workloads that differ, or
            two runs of one setting.
    """
    one, other = (_scored_run(history, number) for number in (first, second))
    if one.workload != other.workload:
        raise InputError(
            f"runs {first} and {second}: they ran {one.workload} and {other.workload}, expected the"
            " same workload"
        )
    if one.ran == other.ran:
        raise InputError(f"runs {first} and {second}: the same setting, expected two that differ")
    scored = scored_runs(history, one.workload)
    sides = [scored.alike(run.ran) for run in (one, other)]
    for run, side in zip((one, other), sides, strict=True):
        if not side:
            raise InputError(
                f"run {run.number}: ran before the machine was changed, expected a run since"
            )
    told = history.definition.workloads.get(one.workload)
    recorded = (name for side in sides for run in side for name in run.subscores)
    names = dict.fromkeys([*(name for name, _ in (told.subscores if told else ())), *recorded])
    found = [_measure(scored, sides, name) for name in ["", *names]]
    return Comparison(one.workload, sides[0], sides[1], tuple(m for m in found if m is not None))


def _scored_run(history: History, number: int) -> Run:
    run = history.by_number.get(number)
    if run is None:
        raise InputError(f"run {number}: not on record, expected 1 to {history.next_number - 1}")
    if not run.best_score:
        raise InputError(
            f"run {number}: a {run.outcome} without a claimable score, expected a pass with a score"
            " that nothing capped"
        )
    return run


def _measure(scored: Scored, sides: Sequence[Sequence[Run]], name: str) -> Measure | None:
    values = [values_of(side, name) for side in sides]
    if not all(values):
        return None
    first, second = (sample_of(v) for v in values)
    noise = scored.noise(name)
    own = first.deviation is not None and second.deviation is not None
    own = own and bool(first.deviation or second.deviation)
    difference = None
    if own:
        difference = welch(first, second)
    elif noise is not None:
        difference = from_known_spread(first, second, *noise)
    spread = None if noise is None else noise[0]
    repeats = least = None
    if spread:
        effect = abs(second.mean - first.mean) / spread
        settled = repeats_to_settle(effect) if effect else inf
        repeats = None if isinf(settled) else ceil(settled)
        if first.count + second.count > 2:
            least = least_difference(spread, first.count, second.count)
    return Measure(name, first, second, difference, own, repeats, least)
