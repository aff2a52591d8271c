"""Simulation-based calibration: the posterior, drawn from its own prior, knows its doubt.

If a truth is drawn from the prior and runs from the truth, the truth's rank among the posterior's
draws is uniform (Talts et al. 2018; Cook, Gelman and Rubin 2006; from memory).
"""

import numpy as np
import pytest
from scipy import stats

from planner.models.joint.evidence import evidence_of
from planner.models.joint.particles import sample
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, WIDTH, X, priors_of
from tests.models.joint.bench import layout, outcome, recorded, settings

pytestmark = pytest.mark.slow

EVENINGS, RUNS, PARTICLES = 120, 10, 240


@pytest.fixture(scope="module")
def ranks() -> np.ndarray:
    """Rank of the true edge and width of both risks, as shares, shape (evenings, 4)."""
    laid = layout()
    priors = priors_of(laid)
    found = []
    for evening in range(EVENINGS):
        rng = np.random.default_rng(evening)
        typical = rng.normal(TYPICAL, TYPICAL_SD, 1)
        truth = [prior.draw(rng, typical)[0] for prior in priors]
        draws = []
        for setting in settings(rng, RUNS):
            at, helps = laid.coordinates([setting]), laid.helps([setting])
            draws.append((setting, *outcome(rng, priors, truth, at, helps)))
        told = evidence_of(recorded(draws), laid)
        particles = sample(priors, told, evening, PARTICLES)
        found.append(
            [
                float(np.mean(rows[:, column] < true[column]))
                for rows, true in zip(particles.rows, truth, strict=True)
                for column in (X, WIDTH)
            ]
        )
    return np.array(found)


@pytest.mark.parametrize("place", range(4))
def test_ranks_are_uniform(ranks: np.ndarray, place: int) -> None:
    """By a Kolmogorov-Smirnov test; fixed seeds, so it cannot fail by bad luck tomorrow."""
    assert stats.kstest(ranks[:, place], "uniform").pvalue > 0.02


def test_nine_in_ten_lie_in_the_ninety_per_cent_interval(ranks: np.ndarray) -> None:
    """Over both edges, within what so many evenings leave open."""
    inside = np.mean((ranks[:, [0, 2]] > 0.05) & (ranks[:, [0, 2]] < 0.95))
    assert inside == pytest.approx(0.9, abs=0.05)
