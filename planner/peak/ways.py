"""What a peak attempt knows of the ways to a score: all knobs' response, and what holds."""

import numpy as np

from planner.domain.knob import Setting
from planner.models.scores.answering import Holding, Ways
from planner.models.scores.curved import Curved
from planner.peak.plan import PeakPlan


def ways(plan: PeakPlan) -> Ways:
    """From any setting, whichever knobs it moves."""
    search = plan.search

    def holding(setting: Setting) -> Holding:
        chances = search.posterior.chances([setting])[:, 0]
        minutes = float(search.worth(search.space.rows([setting])).minutes[0])
        return Holding(chances, np.full(len(chances), 1 / len(chances)), minutes)

    def answering(setting: Setting) -> Curved | None:
        curved = None if search.response is None else Curved(search.response, setting)
        return curved if curved and curved.slopes else None

    return Ways(holding, answering)
