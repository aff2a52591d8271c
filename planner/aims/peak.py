"""Aim `peak`: the best score that can be claimed, over all knobs at once."""

from planner.aims.answers import Answers, Kept
from planner.history import History
from planner.peak.asking import asked
from planner.peak.blame import Blame, blame_of
from planner.peak.closing import closing_reason
from planner.peak.findings import edges, recommend
from planner.peak.plan import PeakPlan, peak_plan
from planner.peak.ways import ways


def peak_aim() -> Answers[PeakPlan]:
    """The answers about a score; of edges those of every knob that can fail."""
    return Answers(
        Kept(peak_plan, PeakPlan.carried_to),
        closing_reason,
        asked,
        "no permitted setting is left to try",
        recommend,
        edges,
        ways,
    )


def blame(aim: Answers[PeakPlan], history: History, run: int) -> Blame:
    """Which knob a failed run is blamed on.

    Raises:
        RecordError: no such run, or it did not fail.
    """
    return blame_of(aim.searches.of(history).search, run)
