"""The edge model against maximum-likelihood fits of binary regression that are in print.

With a flat prior the posterior is the likelihood, so its mode is the maximum-likelihood fit.
"""

from collections import Counter
from typing import Any

import numpy as np
import pytest

from planner.models.edge import EdgePosterior, posterior
from planner.models.edge_grid import EdgeGrid
from planner.models.evidence import Observation
from planner.models.hazard import Shapes, log_spaced
from tests.models.stand_ins import logit, probit

# Bliss, Ann. Appl. Biol. 22 (1935) 134: beetles after five hours of carbon disulphide, as in the
# beetle table of Dobson, An Introduction to Generalized Linear Models. x is log10 dose.
DOSES = (1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.8610, 1.8839)
BEETLES = (59, 60, 62, 56, 63, 59, 62, 60)
KILLED = (6, 13, 18, 28, 52, 53, 61, 60)

STEP = 0.005  # log10 dose; hardness counts such steps from 1.6
TOLERANCE = 0.4  # steps
CELL = TOLERANCE / 8 * STEP  # of the grid, in log10 dose


def beetle_counts() -> Counter[Observation]:
    """A death is a failure whose time is unknown."""
    seen: Counter[Observation] = Counter()
    for dose, count, killed in zip(DOSES, BEETLES, KILLED, strict=True):
        hardness = (dose - 1.6) / STEP
        seen[Observation(hardness, 0.0, 1.0)] += killed
        seen[Observation(hardness, 1.0, None)] += count - killed
    return seen


def fitted(
    shapes: Any, seen: Counter[Observation], steps: int, near: float, target: float
) -> EdgePosterior:
    """The posterior under a flat prior."""
    grid = EdgeGrid(steps, near, target, shapes)
    return posterior(grid, np.ones((len(shapes.width), len(grid.edges))), seen)


def mode(found: EdgePosterior) -> tuple[float, float]:
    """Width and edge with the most probability, both in steps."""
    shape, edge = np.unravel_index(found.weights.argmax(), found.weights.shape)
    return float(found.grid.shapes.width[shape]), float(found.grid.edges[edge])


def widths_around(slope: float) -> tuple[float, ...]:
    """200 widths in steps of 0.7 %, half and twice the one that the published slope gives."""
    width = 1 / slope / STEP
    return tuple(log_spaced(width / 2, width * 2, 200))


def beetle_fit(shapes: Any, target: float = 0.5) -> EdgePosterior:
    """The beetles under one family of curves."""
    return fitted(shapes, beetle_counts(), 60, TOLERANCE, target)


@pytest.fixture(scope="module")
def cloglog() -> EdgePosterior:
    """The model's own curve without shift and lapse."""
    return beetle_fit(Shapes(widths_around(22.041170), spreads=(1e-9,), lapse=0.0))


def deviance(deaths: np.ndarray) -> float:
    """Twice the log likelihood ratio against the observed shares (deaths expected, shape (8,))."""
    n, y = np.array(BEETLES), np.array(KILLED)
    alive = np.where(y < n, (n - y) * np.log(np.maximum(n - y, 1) / (n - deaths)), 0.0)
    return float(2 * (y * np.log(y / deaths) + alive).sum())


def deaths_at_mode(found: EdgePosterior) -> np.ndarray:
    """Expected deaths at each dose under the most probable curve."""
    shape, edge = np.unravel_index(found.weights.argmax(), found.weights.shape)
    rows = [found.grid.survival((dose - 1.6) / STEP, 1.0)[shape, edge] for dose in DOSES]
    return np.array(BEETLES) * (1 - np.array(rows))


def test_beetles_mode_is_the_published_fit(cloglog: EdgePosterior) -> None:
    """Dobson's cloglog fit, -39.572 + 22.041 x (printed -39.57, 22.04): b1 is 1 / width and the
    location is -b0 / b1, each within a cell of the grid."""
    width, edge = mode(cloglog)
    location = edge - Shapes((width,), (1e-9,), 0.0).edge_beyond(0.5)[0]
    assert 1 / (width * STEP) == pytest.approx(22.041170, rel=0.007)
    assert 1.6 + location * STEP == pytest.approx(39.572311 / 22.041170, abs=CELL)


@pytest.mark.parametrize("killed", [0.1, 0.5, 0.9])
def test_beetles_edge_is_the_published_dose(killed: float) -> None:
    """Whatever the target, the edge is the dose that kills that share by the published fit."""
    found = beetle_fit(Shapes(widths_around(22.041170), (1e-9,), 0.0), target=1 - killed)
    dose = (np.log(-np.log(1 - killed)) + 39.572311) / 22.041170
    assert 1.6 + mode(found)[1] * STEP == pytest.approx(dose, abs=1.5 * CELL)


def test_beetles_fitted_deaths(cloglog: EdgePosterior) -> None:
    """Fitted deaths of Dobson's cloglog model, 5.59 to 59.95, and its deviance (printed 3.45)."""
    published = (5.59, 11.28, 20.95, 30.37, 47.78, 54.14, 61.11, 59.95)
    deaths = deaths_at_mode(cloglog)
    assert deaths == pytest.approx(published, abs=0.12)
    assert deviance(deaths) == pytest.approx(3.446439, abs=0.01)


@pytest.mark.parametrize(
    ("family", "slope", "dose", "published"),
    [(logit, 34.270326, 1.771721, 11.232231), (probit, 19.727934, 1.770852, 10.119758)],
)
def test_beetles_other_curves_are_other_answers(
    cloglog: EdgePosterior, family: Any, slope: float, dose: float, published: float
) -> None:
    """Dobson's logit and probit fits (deviances printed 11.23 and 10.12) come out with those
    curves, and are not what the model's own curve says: it fits the beetles better."""
    found = beetle_fit(family(widths_around(slope)))
    assert 1 / (mode(found)[0] * STEP) == pytest.approx(slope, rel=0.007)
    assert 1.6 + mode(found)[1] * STEP == pytest.approx(dose, abs=CELL)
    assert deviance(deaths_at_mode(found)) == pytest.approx(published, abs=0.01)
    assert abs(mode(cloglog)[1] - mode(found)[1]) * STEP > 10 * CELL


def test_beetles_interval_of_the_dose() -> None:
    """The logit LD50's 95 % interval: 1.7642 to 1.7793 by the delta method with its standard
    error of 0.003858 (asserted by the tests of R's investr), 1.7639 to 1.7792 by Fieller's."""
    low, high = beetle_fit(logit(widths_around(34.270326))).interval(0.95)
    assert 1.6 + low * STEP == pytest.approx(1.764159, abs=2 * CELL)
    assert 1.6 + high * STEP == pytest.approx(1.779283, abs=2 * CELL)


# Venables and Ripley, Modern Applied Statistics with S, 4th ed., section 7.2: budworms dead of
# 20 at log2 doses 0 to 5; logit, an intercept for each sex, one slope.
MALE, FEMALE = (1, 4, 9, 13, 18, 20), (0, 2, 6, 10, 12, 16)


def budworms(dead: tuple[int, ...]) -> Counter[Observation]:
    """A step is a doubling of the dose."""
    killed = {Observation(float(at), 0.0, 1.0): count for at, count in enumerate(dead)}
    alive = {Observation(float(at), 1.0, None): 20 - count for at, count in enumerate(dead)}
    return Counter(killed | alive)


@pytest.mark.parametrize(("killed", "dose"), [(0.25, 2.231265), (0.5, 3.263587), (0.75, 4.295910)])
def test_budworm_doses(killed: float, dose: float) -> None:
    """`dose.p` of the females, 3.263587 for half of them: prior times likelihood in logs finds it
    when the males' best fit at each slope is the prior over slopes."""
    shapes = logit(tuple(log_spaced(0.6, 1.5, 300)))
    males = fitted(shapes, budworms(MALE), 5, 0.1, 1 - killed)
    best = males.weights.max(axis=1, keepdims=True)
    prior = np.repeat(best, males.weights.shape[1], axis=1)
    females = posterior(males.grid, prior, budworms(FEMALE))
    assert mode(females)[1] == pytest.approx(dose, abs=1.5 * females.grid.cell)


# MIL-STD-331 App. G, p. 228 (as transcribed in the R package gonogo): Neyer's test of 20 parts.
STIMULI = (1.00, 1.20, 1.40, 1.80, 2.60, 4.20, 3.40, 3.80, 4.00, 4.10)
STIMULI += (4.28, 4.52, 5.55, 5.24, 6.37, 6.08, 7.38, 7.09, 6.89, 6.74)
FIRED = (0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 1, 0, 1, 1, 1, 1)


def test_twenty_single_shots() -> None:
    """Normal fit by maximum likelihood, worked outside the code: mean 5.392185, sd 1.041225."""
    shots = zip(STIMULI, FIRED, strict=True)
    seen = Counter(Observation(x, 0.0, 1.0) if y else Observation(x, 1.0, None) for x, y in shots)
    found = fitted(probit(tuple(log_spaced(0.7, 1.5, 200))), seen, 9, 0.1, 0.5)
    assert mode(found) == pytest.approx((1.041225, 5.392185), abs=0.02)
