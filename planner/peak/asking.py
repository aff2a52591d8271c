"""The next run in words."""

import numpy as np

from planner.domain.quantity import format_number
from planner.peak.choosing import Pick
from planner.peak.plan import PeakPlan
from planner.peak.reopening import reopened
from planner.peak.search import PeakSearch
from planner.proposing import Asked


def asked(plan: PeakPlan) -> Asked | None:
    """What to run next; None where no permitted setting is left."""
    search, found = plan.search, plan.best
    if found is None:
        return None
    setting = search.space.setting(found.row)
    knobs = search.history.definition.knobs
    what = ", ".join(f"{n} = {knobs[n].show(v)}" for n, v in setting.items() if n in knobs)
    return Asked(setting, what, _reason(search, found), found.chance, found.minutes)


def _reason(search: PeakSearch, found: Pick) -> str:
    if not search.scored:
        return "bank a safe, claimable score first: what the stock setting scores"
    setting = search.space.setting(found.row)
    best = search.scored[0]
    response = search.response
    assert response is not None
    assert best.best_score is not None
    mean, sd = response.predict(response.coordinates([setting]), search.posterior.room)
    low, high = (float(np.exp(mean[0] + z * sd[0])) for z in (-1.645, 1.645))
    middle = _score(float(np.exp(mean[0])))
    again = reopened(search, setting)
    return (
        f"would score about {middle} ({_score(low)} to {_score(high)}) if it holds, the best so far"
        f" is {_score(best.best_score)}; {_riskiest(search, found)} is the likeliest to fail it"
        + (f"; {again}" if again else "")
    )


def _riskiest(search: PeakSearch, found: Pick) -> str:
    """The knob with most of the risk at a setting."""
    setting = search.space.setting(found.row)
    risks = search.posterior.log_risks(search.posterior.felt([setting]))[:, 0]
    return search.posterior.layout.names[int(np.argmin(risks))]


def _score(value: float) -> str:
    return format_number(float(f"{value:.4g}"))
