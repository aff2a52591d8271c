"""What a peak study may state: the setting to keep, the edge of each knob."""

from collections.abc import Iterator
from math import log
from typing import Protocol

import numpy as np

from planner.domain.knob import Harder, Knob, Setting
from planner.domain.tables import LAPSE
from planner.models.claim import claim_for
from planner.models.edge import LEVEL
from planner.models.findings import Edge, Recommendation
from planner.models.hazard import Array
from planner.models.separation import Separation
from planner.peak.keeping import Kept
from planner.peak.search import PeakSearch

_SAME = 1e-9
"""Spans by which places differ that are the same."""


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
    return {
        knob.name: _edge(search, knob, values, runs)
        for knob, values, runs in edge_draws(search, plan.kept.setting)
    }


def edge_draws(search: PeakSearch, beside: Setting) -> Iterator[tuple[Knob, Array, int]]:
    """Each knob that can fail a run, draws of its edge in its unit, how many runs speak of it.

    The supports, and the data rate that turns clocks into time, stand as in `beside`. A run speaks
    of a knob that its part felt as other than at stock: a timing by its data rate too.
    """
    posterior, definition = search.posterior, search.history.definition
    wanted = log(definition.goal.target / (1 - LAPSE))
    ran = [{**definition.stock, **run.ran} for run in posterior.evidence.runs]
    felt = posterior.layout.coordinates(ran)
    for place, risk in enumerate(posterior.layout.risks):
        speaking = int((np.abs(felt[:, place] - risk.stock) > _SAME).sum())
        yield risk.knob, posterior.edge_values(place, beside, wanted), speaking


def _edge(search: PeakSearch, knob: Knob, values: Array, runs: int) -> Edge:
    """The edge of one knob from its draws, in the knob's unit."""
    grid = knob.grid
    assert grid is not None
    low, middle, high = np.quantile(values, [(1 - LEVEL) / 2, 0.5, (1 + LEVEL) / 2])
    up = knob.harder is not Harder.DOWN
    at = (values - grid.low if up else grid.high - values) / grid.step
    return Edge(
        knob=knob.name,
        unit=knob.unit,
        value=float(middle),
        interval=(float(low), float(high)),
        level=LEVEL,
        target=search.history.definition.goal.target,
        beyond_easy=float(np.mean(at < 0)),
        beyond_hard=float(np.mean(at > grid.size - 1)),
        runs=runs,
        separation=Separation.UNCLEAR,
    )
