"""The next run in words."""

from functools import partial

import numpy as np

from planner.domain.knob import Setting
from planner.domain.quantity import format_number
from planner.peak.alternatives import Alternative, alternatives
from planner.peak.choosing import Pick
from planner.peak.plan import PeakPlan
from planner.peak.reopening import reopened
from planner.peak.screening import Screen
from planner.peak.search import PeakSearch
from planner.proposing import Asked

_FIRST = "bank a safe, claimable score first: what the stock setting scores"
_WHOLE = 0.99
"""From this share on the evening's end takes nothing worth a word."""


def asked(plan: PeakPlan) -> Asked | None:
    """What to run next; None where no permitted setting is left."""
    search, found = plan.search, plan.chosen
    if found is None:
        return None
    setting = search.space.setting(found.row)
    what = in_words(search, setting)
    if plan.confirming is not None:
        return Asked(setting, what, _confirms(search), found.chance, found.minutes)
    reason = why(search, setting) + _ending(search, found) if search.scored else _FIRST
    screen = plan.screen
    if screen is None:
        return Asked(setting, what, reason, found.chance, found.minutes)
    reason = f"{_first(screen)}. The whole run after it {reason}"
    return Asked(setting, what, reason, screen.chance, screen.minutes, workload=screen.workload)


def others(plan: PeakPlan, count: int) -> list[Alternative]:
    """Settings to choose from beside the one to ask for."""
    search, found = plan.search, plan.chosen
    if found is None:
        return []
    setting = search.space.setting(found.row)
    return alternatives(search, plan.offered, setting, count, partial(why, search))


def _first(screen: Screen) -> str:
    """Why a screen comes before the whole run."""
    workload = screen.workload
    groups = workload.screens
    named = groups[0] if len(groups) == 1 else "one of them"
    return (
        f"a {format_number(workload.minutes)} min screen of {' and '.join(groups)} first: it fails"
        f" with {1 - screen.chance:.0%}, and a crash there points at {named}; on the way to the"
        f" answer it saves about {screen.saved:.1f} min"
    )


def _ending(search: PeakSearch, found: Pick) -> str:
    """That the evening's end spoke against what may fail; empty: it did not."""
    left = search.history.minutes_left
    if left is None or found.left > _WHOLE:
        return ""
    minutes = format_number(round(left, 1))
    return f"; with {minutes} min left a failure would cost the end of the evening"


def _confirms(search: PeakSearch) -> str:
    left = search.history.minutes_left
    assert left is not None
    return (
        "confirms the best before the evening ends: what else fits in the"
        f" {format_number(round(left, 1))} min left is worth less than runs differ by"
    )


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
