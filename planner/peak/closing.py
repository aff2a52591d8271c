"""When a peak attempt has had its evening."""

from planner.peak.plan import PeakPlan
from planner.peak.search import PeakSearch
from planner.stopping import minutes_spent

AHEAD = 30.0
"""Minutes looked ahead."""


def closing_reason(plan: PeakPlan) -> str | None:
    """Why to close now, or None to go on; the person's own closing comes first."""
    history, search = plan.history, plan.search
    if history.closed:
        return history.closed
    if reason := minutes_spent(history) or _nothing_permitted(search):
        return reason
    if history.reopened or not search.scored:
        return None
    return _flattened(plan)


def _nothing_permitted(search: PeakSearch) -> str | None:
    if search.gate.permits(search.base) or search.scored:
        return None
    why = "; ".join(search.gate.objections(search.base))
    return f"nothing may be proposed, not even the stock setting: {why}"


def _flattened(plan: PeakPlan) -> str | None:
    """What the best run left gains for its minutes is less than runs differ by."""
    search, best = plan.search, plan.best
    response = search.response
    assert response is not None
    if best is None:
        return "no permitted setting is left to try"
    worth = best.chance * best.gain / best.minutes * AHEAD
    if worth >= response.noise:
        return None
    score = search.scored[0].best_score or 0.0
    return (
        f"gains have flattened: {AHEAD:.0f} more minutes are worth about"
        f" {worth * score:.2g} points, runs differ by {response.noise * score:.2g}"
    )
