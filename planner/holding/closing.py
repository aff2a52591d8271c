"""When a setting that must keep holding has been found, and shown to."""

from planner.domain.quantity import format_number
from planner.holding.plan import HoldPlan
from planner.peak.closing import nothing_permitted
from planner.peak.forecast import AHEAD
from planner.stopping import minutes_spent

_EVEN = 0.5
"""What is likelier to fail than to pass is no way to a setting that keeps holding."""


def going_further(plan: HoldPlan) -> bool:
    """Whether what has passed may still be bettered by more than is worth telling apart."""
    pick = plan.further
    if pick is None or (pick.chance < _EVEN and plan.search.scored):
        return False
    return _pays(plan, pick.rate)


def telling(plan: HoldPlan) -> bool:
    """Whether a run would better the setting to keep by more than is worth telling apart."""
    return plan.look is not None and _pays(plan, plan.look.rate)


def _pays(plan: HoldPlan, rate: float) -> bool:
    answer = plan.search.response
    assert answer is not None
    return rate * AHEAD >= answer.noise


def making_sure(plan: HoldPlan) -> bool:
    """Whether no setting is sure enough to keep, and more runs may make one so."""
    if plan.kept.holds:
        return False
    return float(plan.search.posterior.chances([plan.surest]).mean()) >= _EVEN


def confirming(plan: HoldPlan) -> bool:
    """Whether the setting to keep owes runs to the claim that is asked for."""
    return plan.kept.holds and not plan.claim.met


def closing_reason(plan: HoldPlan) -> str | None:
    """Why to close now, or None to go on; the person's own closing comes first."""
    history = plan.history
    if history.closed:
        return history.closed
    if reason := minutes_spent(history) or nothing_permitted(plan.search):
        return reason
    if history.reopened or not history.evidence or going_further(plan) or telling(plan):
        return None
    if making_sure(plan) or confirming(plan):
        return None
    return _reason(plan)


def _reason(plan: HoldPlan) -> str:
    if not plan.kept.holds:
        return "no setting is sure enough to keep holding, and no run would make one so"
    claim = plan.claim
    gain = 0.0 if plan.look is None else plan.look.rate * AHEAD
    what = f"{AHEAD:.0f} more minutes would better it by about {100 * gain:.2g}%"
    if claim.runs and plan.history.definition.goal.confidence is not None:
        return f"the setting to keep passed {claim.passes} of {claim.runs} runs, and {what}"
    return f"the setting to keep is as good as it gets: {what}" + _hours(claim.hours)


def _hours(hours: float) -> str:
    return f"; it has held for {format_number(round(hours, 1))} h so far" if hours else ""
