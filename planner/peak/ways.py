"""What a search over many knobs knows of the ways to a score: its response, and what holds."""

import numpy as np

from planner.domain.knob import Setting
from planner.models.joint.response import Response
from planner.models.scores.answering import Holding, Ways
from planner.models.scores.curved import Curved
from planner.peak.findings import Plan


def ways(plan: Plan) -> Ways:
    """From any setting, whichever knobs it moves."""
    search = plan.search
    response = search.response

    def holding(setting: Setting) -> Holding:
        chances = search.posterior.chances([setting])[:, 0]
        minutes = float(search.worth(search.space.rows([setting])).minutes[0])
        return Holding(chances, np.full(len(chances), 1 / len(chances)), minutes)

    def answering(setting: Setting) -> Curved | None:
        curved = Curved(response, setting) if isinstance(response, Response) else None
        return curved if curved and curved.slopes else None

    return Ways(holding, answering)
