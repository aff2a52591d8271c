"""The claimable scores of one workload, and the run-to-run noise that they share."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from planner.domain.knob import Setting, Value
from planner.domain.run import Run
from planner.history import History
from planner.trade.scores.drift import drift
from planner.trade.scores.spread import Sample, pooled_deviation, sample_of

_LATEST = 30
"""Repeats among which drift is looked for: in longer rows chance alone looks like it too often."""


@dataclass(frozen=True, slots=True)
class Drift:
    """Repeats that wandered off."""

    since: int
    """The run from which on they differ."""
    share: float
    """By how much of the score, about; negative: lower."""


@dataclass(frozen=True)
class Scored:
    """Claimable runs of one workload since the last told change, as they were recorded."""

    workload: str
    runs: tuple[Run, ...]

    @cached_property
    def best(self) -> Run | None:
        """The first run that reached the best score; None where there is none."""
        return max(self.runs, key=score_of, default=None)

    def alike(self, setting: Setting) -> tuple[Run, ...]:
        """The runs at exactly a setting, in their order."""
        return tuple(run for run in self.runs if run.ran == setting)

    def sample(self, setting: Setting, subscore: str = "") -> Sample | None:
        """Repeats at exactly a setting, of the score or of a sub-score; None where none has it."""
        values = values_of(self.alike(setting), subscore)
        return sample_of(values) if values else None

    def noise(self, subscore: str = "") -> tuple[float, int] | None:
        """Run-to-run standard deviation about each setting's own mean, and degrees of freedom."""
        samples = [values_of(runs, subscore) for runs in self._settings]
        return pooled_deviation([sample_of(values) for values in samples if values])

    def drift(self) -> Drift | None:
        """Whether repeats of settings wandered off together; None: they did not, or are few."""
        about = []
        for runs in self._settings:
            mean = sum(map(score_of, runs)) / len(runs)
            if len(runs) > 1:
                about += [(run.number, score_of(run) / mean - 1) for run in runs]
        latest = sorted(about)[-_LATEST:]
        found = drift([value for _, value in latest])
        if found is None:
            return None
        return Drift(latest[found.first][0], found.after - found.before)

    @cached_property
    def _settings(self) -> tuple[list[Run], ...]:
        """The runs of each setting."""
        settings: dict[tuple[tuple[str, Value], ...], list[Run]] = {}
        for run in self.runs:
            settings.setdefault(tuple(sorted(run.ran.items())), []).append(run)
        return tuple(settings.values())


def scored_runs(history: History, workload: str) -> Scored:
    """The scores of a workload; those before the last told change only where none came since."""
    claimable = [
        run
        for run in history.evidence
        if run.workload == workload and run.best_score is not None and run.best_score > 0
    ]
    latest = [run for run in claimable if run.epoch == len(history.changes)]
    return Scored(workload, tuple(latest or claimable))


def score_of(run: Run) -> float:
    """The score of a run that has one."""
    assert run.score is not None, run.number
    return run.score


def values_of(runs: Iterable[Run], subscore: str) -> list[float]:
    """Scores, or the sub-scores that were recorded under a name."""
    if not subscore:
        return [score_of(run) for run in runs]
    return [run.subscores[subscore] for run in runs if subscore in run.subscores]
