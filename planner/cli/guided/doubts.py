"""When an answer is asked about once more before it is recorded."""

from collections.abc import Iterable
from dataclasses import dataclass

from planner.cli.guided.answer import Answer
from planner.domain.run import Run

HASTY_S = 2.0
"""Nobody dials a setting in and runs it within this."""
FAR_OFF = 10.0
"""A score so many times above or below the best is more likely a slip of the hand."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """What is odd about an answer; what is None is not."""

    seconds: float | None
    """Since its run was first shown, where they are few."""
    score: float | None
    best: float | None
    """The best score so far, where `score` is out of all proportion to it."""

    def __bool__(self) -> bool:
        """Whether anything is odd."""
        return self.seconds is not None or self.score is not None


def doubt(answer: Answer, earlier: Iterable[Run], since: float | None) -> Doubt:
    """What is odd about an answer.

    `earlier`: the other runs of its workload. `since`: seconds since its run was first shown;
    None: it may well have been run by now.
    """
    seconds = since if since is not None and since < HASTY_S else None
    score = answer.facts.get("score")
    best = max((run.best_score for run in earlier if run.best_score), default=None)
    if score is None or best is None or best / FAR_OFF <= score <= best * FAR_OFF:
        return Doubt(seconds, None, None)
    return Doubt(seconds, score, best)
