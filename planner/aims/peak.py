"""Aim `peak`: the best score that can be claimed, over all knobs at once."""

from planner.aims.answers import Answers, Kept
from planner.domain.tables import Aim
from planner.errors import RecordError
from planner.history import History
from planner.peak.asking import asked, others
from planner.peak.blame import Blame, blame_of
from planner.peak.closing import closing_reason
from planner.peak.findings import edges, recommend
from planner.peak.forecast import Forecast, forecast_of
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
        others,
    )


def blame(aim: Answers[PeakPlan], history: History, run: int) -> Blame:
    """Which knob a failed run is blamed on.

    Raises:
        RecordError: no such run, or it did not fail.
    """
    return blame_of(aim.searches.of(history).search, run)


def forecast(aim: Answers[PeakPlan], history: History, minutes: float | None) -> Forecast:
    """How an evening may go on for so many minutes; None: for what is left of it.

    Raises:
        RecordError: the aim is not `peak`, or nothing scored yet.
    """
    if history.definition.goal.aim is not Aim.PEAK:
        raise RecordError(
            f"a forecast: expected aim peak, this study's is {history.definition.goal.aim}"
        )
    plan = aim.searches.of(history)
    return forecast_of(plan.search, plan.offered, minutes)
