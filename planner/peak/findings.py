"""What a peak study may state: the setting to keep, the edge of each knob."""

from math import log

import numpy as np

from planner.domain.knob import Harder
from planner.domain.tables import LAPSE
from planner.models.claim import claim_for
from planner.models.edge import LEVEL
from planner.models.findings import Edge, Recommendation
from planner.models.hazard import Array
from planner.models.joint.likelihood import edge_at
from planner.models.joint.prior import RATIO, WIDTH
from planner.models.joint.survival import crossing
from planner.models.separation import Separation
from planner.peak.candidates import candidates, neighbours
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_CLIMBS = 12


def recommend(search: PeakSearch) -> Recommendation:
    """The setting of the best score among those that pass with the study's target."""
    row, holds = _kept(search)
    setting = search.space.setting(row)
    chances = search.posterior.chances([setting])[:, 0]
    low, high = np.quantile(chances, [(1 - LEVEL) / 2, (1 + LEVEL) / 2])
    return Recommendation(
        settings=setting,
        pass_probability=float(chances.mean()),
        interval=(float(low), float(high)),
        expected_loss=float(1 - chances.mean()),
        holds=holds,
        claim=claim_for(search, setting),
        at_own_risk=search.gate.at_own_risk(setting),
    )


def _kept(search: PeakSearch) -> tuple[Rows, bool]:
    """The row to keep, and whether it passes with the target."""
    stock = search.space.rows([search.base])
    rows = candidates(search) if search.scored else stock
    best, value = stock[0], -np.inf
    for _ in range(_CLIMBS):
        values = _values(search, rows)
        for place in np.argsort(-values):
            if values[place] <= value + 1e-6:
                return best, value > -np.inf
            if search.gate.permits(search.space.setting(rows[place])):
                break
        else:
            return best, value > -np.inf
        best, value = rows[place], float(values[place])
        rows = neighbours(search.space.sizes, best)
    return best, True


def _values(search: PeakSearch, rows: Rows) -> Array:
    """Expected log score of the rows that pass often enough, minus infinity of the others."""
    settings = search.space.settings(rows)
    layout = search.posterior.layout
    at, helps = layout.coordinates(settings), layout.helps(settings)
    chances = np.exp(search.posterior.log_chances(at, helps)[1]).mean(axis=0)
    response = search.response
    mean = np.zeros(len(rows))
    if response is not None:
        mean, _ = response.predict(response.coordinates(settings), search.posterior.room)
    return np.where(chances >= search.history.definition.goal.target, mean, -np.inf)


def edges(search: PeakSearch) -> dict[str, Edge]:
    """Of each knob that can fail a run: where it alone still lets the target share pass.

    The supports, and the data rate that turns clocks into time, stand at the setting to keep.
    """
    keep = search.space.setting(_kept(search)[0])
    posterior = search.posterior
    helps = posterior.layout.helps([keep])
    wanted = log(search.history.definition.goal.target / (1 - LAPSE))
    found = {}
    for place, (prior, rows) in enumerate(
        zip(posterior.particles.priors, posterior.particles.rows, strict=True)
    ):
        edge = edge_at(prior, rows, helps, np.array([posterior.warmth]))[:, 0]
        at = edge + np.exp(rows[:, WIDTH]) * crossing(rows[:, RATIO], wanted)
        spread = posterior.spread_to_value(place, at, keep)
        found[prior.risk.knob.name] = _edge(search, place, spread)
    return found


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
