"""Aims `everyday` and `trim`: the fastest setting that keeps holding, the least voltage so."""

from functools import partial

from planner.aims.answers import Answers, Kept
from planner.holding.asking import asked, others
from planner.holding.closing import closing_reason
from planner.holding.plan import HoldPlan, hold_plan
from planner.holding.wishes import EVERYDAY, TRIM
from planner.peak.findings import edges, recommend
from planner.peak.ways import ways
from planner.peak.wish import Wish


def everyday_aim() -> Answers[HoldPlan]:
    """The answers about the fastest setting that keeps holding."""
    return _answers(EVERYDAY)


def trim_aim() -> Answers[HoldPlan]:
    """The answers about the least voltage that holds given clocks."""
    return _answers(TRIM)


def _answers(wish: Wish) -> Answers[HoldPlan]:
    return Answers(
        Kept(partial(hold_plan, wish), HoldPlan.carried_to),
        closing_reason,
        asked,
        "nothing is left to find or to show",
        recommend,
        edges,
        ways,
        others,
    )
