"""What the picture of a search over many knobs shows, gathered from the history and frozen."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.tables import Aim
from planner.history import History
from planner.models.joint.response import response_of
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.progress.milestones import Told, told_between
from planner.report.pictures.progress.runs import MANY, TIMES, Lost, lost_on
from planner.report.pictures.progress.scores import Scores, scores_of
from planner.report.pictures.risked import Risked, risked_runs
from planner.report.pictures.words import study_line

_ROWS = 12
"""Where there are many runs, so many marks fit above each other."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Runs that share a mark: what chance to pass was stated, and how they ended."""

    minutes: float
    chance: float | None
    """Stated before the run; None: the person's own run, none was stated."""
    ending: Ending
    count: int


@dataclass(frozen=True, slots=True)
class Climb:
    """All that is drawn; times in bench minutes, scores in points."""

    study_line: tuple[str, ...]
    """Which study, what was run, how much of it."""
    runs: int
    minutes: float
    held: int
    """How many of the runs held."""
    for_score: bool
    """Whether the score is sought; else only what holds."""
    scores: Scores | None
    noise: float | None
    """Run-to-run standard deviation as a share of the score, by the model; None: no score yet."""
    beat: tuple[tuple[str, float], ...]
    """Names and scores to beat."""
    taken: tuple[Taken, ...]
    gathered: bool
    """Whether runs share marks because there are many."""
    expected: float
    """How many of the runs with a stated chance should have passed by it."""
    stated: int
    """How many runs had their chance stated."""
    passed: int
    """How many of those held."""
    at_risk: Risked
    told: tuple[Told, ...]
    """What else was told between the runs."""
    lost: Lost

    @property
    def best(self) -> float | None:
        """The best claimable score."""
        return self.scores.best[-1][1] if self.scores and self.scores.best else None


def climb(history: History) -> Climb:
    """The attempt so far."""
    runs, aim = _taken(history), history.definition.goal.aim
    scores = None if aim is Aim.TRIM else scores_of(history)
    stated = [(chance, ending) for _, chance, ending in runs if chance is not None]
    few = sum(run.best_score is not None for run in history.evidence) <= MANY
    response = response_of(history) if few and scores is not None else None
    return Climb(
        study_line=tuple(study_line(history)),
        runs=len(history.evidence),
        minutes=history.minutes_spent,
        held=sum(run.outcome.held for run in history.evidence),
        for_score=aim is Aim.PEAK or scores is not None,
        scores=scores,
        noise=None if response is None else response.noise,
        beat=() if aim is Aim.TRIM else history.definition.workload.beat,
        taken=_marks(runs, history.minutes_spent),
        gathered=len(runs) > MANY,
        expected=sum(chance for chance, _ in stated),
        stated=len(stated),
        passed=sum(not ending.failed for _, ending in stated),
        at_risk=risked_runs(history),
        told=told_between(history),
        lost=lost_on(history),
    )


Run = tuple[float, float | None, Ending]
"""Minutes at its end, the chance stated, how it ended."""


def _taken(history: History) -> list[Run]:
    spent, found = 0.0, []
    for run in history.evidence:
        spent += run.minutes
        chance = None if run.asked is None else run.asked.body.get("pass_probability")
        found.append((spent, chance, ending_of(run, history.definition)))
    return found


def _marks(runs: Sequence[Run], minutes: float) -> tuple[Taken, ...]:
    if len(runs) > MANY:
        width = (minutes or 1.0) / TIMES
        runs = [
            (
                (min(int(at / width), TIMES - 1) + 0.5) * width,
                None if chance is None else (min(int(chance * _ROWS), _ROWS - 1) + 0.5) / _ROWS,
                ending,
            )
            for at, chance, ending in runs
        ]
    return tuple(Taken(*place, count) for place, count in Counter(runs).items())
