"""What a peak study may state: the setting to keep, the edge of each knob."""

from math import log
from typing import Protocol

import numpy as np

from planner.domain.knob import Harder
from planner.domain.tables import LAPSE
from planner.models.claim import claim_for
from planner.models.edge import LEVEL
from planner.models.findings import Edge, Recommendation
from planner.models.hazard import Array
from planner.models.separation import Separation
from planner.peak.keeping import Kept
from planner.peak.search import PeakSearch


class Plan(Protocol):
    """A search over many knobs, and the setting that it would keep."""

    @property
    def search(self) -> PeakSearch:
        """What is known."""
        ...

    @property
    def kept(self) -> Kept:
        """The setting to keep."""
        ...


def recommend(plan: Plan) -> Recommendation:
    """What is known of the setting to keep."""
    search, setting = plan.search, plan.kept.setting
    chances = search.posterior.chances([setting])[:, 0]
    low, high = np.quantile(chances, [(1 - LEVEL) / 2, (1 + LEVEL) / 2])
    return Recommendation(
        settings=setting,
        pass_probability=float(chances.mean()),
        interval=(float(low), float(high)),
        expected_loss=float(1 - chances.mean()),
        holds=plan.kept.holds,
        claim=claim_for(search, setting),
        at_own_risk=search.gate.at_own_risk(setting),
    )


def edges(plan: Plan) -> dict[str, Edge]:
    """Of each knob that can fail a run: where it alone still lets the target share pass.

    The supports, and the data rate that turns clocks into time, stand at the setting to keep.
    """
    search = plan.search
    wanted = log(search.history.definition.goal.target / (1 - LAPSE))
    return {
        name: _edge(search, k, search.posterior.edge_values(k, plan.kept.setting, wanted))
        for k, name in enumerate(search.posterior.layout.names)
    }


def _edge(search: PeakSearch, place: int, values: Array) -> Edge:
    """The edge of one knob from its draws, in the knob's unit."""
    risk = search.posterior.layout.risks[place]
    knob, grid = risk.knob, risk.knob.grid
    assert grid is not None
    low, middle, high = np.quantile(values, [(1 - LEVEL) / 2, 0.5, (1 + LEVEL) / 2])
    up = knob.harder is not Harder.DOWN
    at = (values - grid.low if up else grid.high - values) / grid.step
    stock = search.history.definition.stock[knob.name]
    moved = sum(run.ran[knob.name] != stock for run in search.posterior.evidence.runs)
    return Edge(
        knob=knob.name,
        unit=knob.unit,
        value=float(middle),
        interval=(float(low), float(high)),
        level=LEVEL,
        target=search.history.definition.goal.target,
        beyond_easy=float(np.mean(at < 0)),
        beyond_hard=float(np.mean(at > grid.size - 1)),
        runs=moved,
        separation=Separation.UNCLEAR,
    )
