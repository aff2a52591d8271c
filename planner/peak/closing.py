"""When a peak attempt has had its evening."""

from planner.domain.quantity import format_number
from planner.peak.choosing import has_scored
from planner.peak.forecast import AHEAD
from planner.peak.plan import PeakPlan
from planner.peak.search import PeakSearch
from planner.stopping import minutes_spent


def closing_reason(plan: PeakPlan) -> str | None:
    """Why to close now, or None to go on; the person's own closing comes first."""
    history, search = plan.history, plan.search
    if history.closed:
        return history.closed
    if reason := minutes_spent(history) or nothing_permitted(search) or _nothing_fits(plan):
        return reason
    if history.reopened or not search.scored:
        return None
    return None if plan.confirming else _flattened(plan)


def nothing_permitted(search: PeakSearch) -> str | None:
    """The reason to close where not even the stock setting may be proposed."""
    if search.gate.permits(search.base) or search.scored:
        return None
    why = "; ".join(search.gate.objections(search.base))
    return f"nothing may be proposed, not even the stock setting: {why}"


def _nothing_fits(plan: PeakPlan) -> str | None:
    """Every run that is new would end after the evening."""
    left = plan.history.minutes_left
    if left is None or plan.best is not None or plan.confirming is not None:
        return None
    search, rows = plan.search, plan.offered
    if (search.worth(rows).left > 0)[~has_scored(search, rows)].any():
        return None
    spent, end = plan.history.minutes_spent, plan.history.definition.goal.minutes
    assert end is not None
    return (
        f"minutes spent: {format_number(round(spent, 1))} of {format_number(end)}, and no new run"
        f" fits in the {format_number(round(left, 1))} min left"
    )


def _flattened(plan: PeakPlan) -> str | None:
    """What the best run left gains for its minutes is less than runs differ by."""
    search, best = plan.search, plan.best
    response = search.response
    assert response is not None
    if best is None:
        return "no permitted setting is left to try"
    if best.rate * AHEAD >= 3 * response.noise:
        return None  # far from flat: no evening need be played to see it
    ahead = plan.ahead
    if ahead.worth + ahead.worth_sd >= ahead.noise:
        return None
    return (
        f"gains have flattened: {AHEAD:.0f} more minutes are worth {ahead.worth:.2g} points, give"
        f" or take {ahead.worth_sd:.2g}, runs differ by {ahead.noise:.2g}"
    )
