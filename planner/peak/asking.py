"""The next run in words."""

import numpy as np

from planner.domain.knob import Setting
from planner.domain.quantity import format_number
from planner.peak.plan import PeakPlan
from planner.peak.reopening import reopened
from planner.peak.search import PeakSearch
from planner.proposing import Asked

_FIRST = "bank a safe, claimable score first: what the stock setting scores"


def asked(plan: PeakPlan) -> Asked | None:
    """What to run next; None where no permitted setting is left."""
    search, found = plan.search, plan.best
    if found is None:
        return None
    setting = search.space.setting(found.row)
    what = in_words(search, setting)
    reason = why(search, setting) if search.scored else _FIRST
    return Asked(setting, what, reason, found.chance, found.minutes)


def in_words(search: PeakSearch, setting: Setting) -> str:
    """The setting in words."""
    knobs = search.history.definition.knobs
    return ", ".join(f"{n} = {knobs[n].show(v)}" for n, v in setting.items() if n in knobs)


def why(search: PeakSearch, setting: Setting) -> str:
    """What a setting promises beside the best so far, and what is likeliest to fail it."""
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
        f" is {_score(best.best_score)}; {riskiest(search, setting)} is the likeliest to fail it"
        + (f"; {again}" if again else "")
    )


def riskiest(search: PeakSearch, setting: Setting) -> str:
    """The knob with most of the risk at a setting."""
    risks = search.posterior.log_risks(search.posterior.felt([setting]))[:, 0]
    return search.posterior.layout.names[int(np.argmin(risks))]


def _score(value: float) -> str:
    return format_number(float(f"{value:.4g}"))
