"""The next run in words."""

from functools import partial

import numpy as np

from planner.domain.knob import Setting
from planner.holding.closing import confirming, going_further, making_sure, telling
from planner.holding.look_ahead import Look
from planner.holding.plan import HoldPlan
from planner.peak.alternatives import Alternative, alternatives
from planner.peak.asking import in_words, riskiest
from planner.peak.choosing import Pick
from planner.proposing import Asked


def asked(plan: HoldPlan) -> Asked | None:
    """What to run next; None where nothing is left to find or to show."""
    if not plan.history.evidence:
        return _of(plan, plan.search.base, "show first that the setting to start from holds")
    if plan.further is not None and going_further(plan):
        return _going_further(plan, plan.further)
    if plan.look is not None and telling(plan):
        return _telling(plan, plan.look)
    if making_sure(plan):
        return _of(plan, plan.surest, "no setting is sure enough to keep yet: this one makes surer")
    if confirming(plan):
        return _confirming(plan)
    return _all_the_same(plan) if plan.history.reopened else None


def _all_the_same(plan: HoldPlan) -> Asked | None:
    """What is worth most to who goes on though nothing is worth its minutes."""
    if plan.further is not None:
        return _going_further(plan, plan.further)
    if plan.look is not None:
        return _telling(plan, plan.look)
    return _confirming(plan) if plan.kept.holds else None


def others(plan: HoldPlan, count: int) -> list[Alternative]:
    """Settings to choose from beside the one to ask for: those that may better what has passed."""
    one = asked(plan)
    if one is None:
        return []
    search = plan.search
    return alternatives(search, plan.offered, one.setting, count, partial(_reason, plan))


def _going_further(plan: HoldPlan, pick: Pick) -> Asked:
    setting = plan.search.space.setting(pick.row)
    return _of(plan, setting, _reason(plan, setting))


def _telling(plan: HoldPlan, look: Look) -> Asked:
    setting = plan.search.space.setting(look.row)
    return _of(plan, setting, f"tells most about what can be kept; {_likeliest(plan, setting)}")


def _confirming(plan: HoldPlan) -> Asked:
    claim = plan.claim
    reason = (
        f"confirms the setting to keep: {claim.passes} of"
        f" {claim.passes + claim.passes_owed} passes in a row are done"
    )
    return _of(plan, plan.kept.setting, reason, cold_start=claim.cold_boots_owed > 0)


def _of(plan: HoldPlan, setting: Setting, reason: str, cold_start: bool = False) -> Asked:
    search = plan.search
    row = search.space.rows([setting])
    worth = search.worth(row)
    what = in_words(search, setting)
    return Asked(
        setting, what, reason, float(worth.chances[0]), float(worth.minutes[0]), cold_start
    )


def _reason(plan: HoldPlan, setting: Setting) -> str:
    """What the run could lead to, and what is likeliest to fail it."""
    search, keep = plan.search, plan.kept.setting
    (here, there), _ = search.expected([setting, keep])
    kept = "the setting to keep so far" if plan.kept.holds else "where the search started"
    return f"would be {100 * np.expm1(here - there):.2g}% over {kept}; {_likeliest(plan, setting)}"


def _likeliest(plan: HoldPlan, setting: Setting) -> str:
    return f"{riskiest(plan.search, setting)} is the likeliest to fail it"
