"""What a recommendation costs in expectation, and what the next run is worth, by other means."""

from math import log2

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.models import decision
from planner.models.decision import NONE, decide, first_tolerance, loss_table, unsound
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.evidence import Observation
from planner.models.hazard import Shapes
from planner.models.look_ahead import BIT, STREAKS
from tests.models.bench import studied

SHAPES = Shapes((0.4,), (0.1,))
U, F, E = decision.UNSOUND, decision.FIRST_TOLERANCE, decision.EACH_TOLERANCE
LEVELS = np.array([0.0, 1.0, 2.0])
WIDE = EdgeGrid(steps=40, tolerance=1.0, target=0.9, shapes=SHAPES)


def toy(below: float, first: float, second: float, third: float) -> np.ndarray:
    """Probabilities that no level is sound, and that the hardest sound one is 0, 1 or 2."""
    mass = np.zeros(len(WIDE.edges))
    for place, share in ((-1.5, below), (0.5, first), (1.5, second), (9.0, third)):
        mass[np.abs(WIDE.edges - place).argmin()] += share
    return mass


@pytest.mark.parametrize(
    ("below", "first", "second", "third", "best"),
    [
        (0.0, 0.2, 0.5, 0.3, 1),
        (0.1, 0.1, 0.1, 0.7, 1),
        (0.0, 0.01, 0.01, 0.98, 2),
        (0.9, 0.1, 0.0, 0.0, NONE),
        (0.2, 0.7, 0.1, 0.0, 0),
    ],
)
def test_losses_by_hand(below: float, first: float, second: float, third: float, best: int) -> None:
    """Three levels in a wide range, summed by hand: unsound U, one tolerance low F, two F + E;
    and recommending none costs U where one is sound."""
    table, mass = loss_table(WIDE, LEVELS), toy(below, first, second, third)
    losses = [
        U * below + F * second + (F + E) * third,
        U * (below + first) + F * third,
        U * (below + first + second),
        U * (first + second + third),
    ]
    assert table @ mass == pytest.approx(losses, abs=1e-9)
    assert decide(table, mass).index == best
    assert decide(table, mass).loss == pytest.approx(min(losses), abs=1e-9)


def by_definition(grid: EdgeGrid, level: float, levels: list[float], edge: float) -> float:
    """The loss in the words of the module's docstring, one level and one edge at a time."""
    if level > edge:
        return unsound(grid)
    low = (max(at for at in levels if at <= edge) - level) / grid.tolerance
    return first_tolerance(grid) * min(low, 1) + E * log2(1 + max(low - 1, 0))


@given(
    st.sampled_from([(4, 1.0), (12, 1.0), (20, 2.0), (300, 7.5)]),
    st.lists(st.integers(0, 20), min_size=1, max_size=6, unique=True),
)
def test_the_table_is_the_stated_loss(size: tuple[int, float], places: list[int]) -> None:
    """Every level against every edge, also where ceilings or rules leave holes in the range."""
    grid, levels = EdgeGrid(*size, 0.9, SHAPES), [float(place) for place in sorted(places)]
    table = loss_table(grid, np.array(levels))
    for row, level in zip(table, levels, strict=False):
        stated = [by_definition(grid, level, levels, edge) for edge in grid.edges]
        assert np.abs(row - stated).max() < 1e-9
    assert (table[-1] == np.where(grid.edges >= levels[0], unsound(grid), 0.0)).all()


def test_the_first_step_costs_more_of_a_coarse_range() -> None:
    """Next to nothing of a range of 13 or more values; the fewer there are the more, but never
    as much as an unsound value."""
    costs = [first_tolerance(EdgeGrid(n, 1.0, 0.9, SHAPES)) for n in (40, 13, 8, 4, 2, 1)]
    assert costs == sorted(costs)
    assert costs[:2] == [F, F]
    assert costs[3] > 3 * F
    assert costs[-1] < U


def test_the_constants_are_documented() -> None:
    """The module's text states the losses that its code has."""
    text = " ".join((decision.__doc__ or "").split())
    assert f"costs {U:g} if it is unsound" in text
    assert f"{F:g} min(d, 1) + {E:g} log2(1 + max(d - 1, 0))" in text


@given(st.lists(st.floats(0.0, 1.0), min_size=8, max_size=8).filter(sum))
def test_no_other_recommendation_costs_less(heights: list[float]) -> None:
    """The decision has the least expected loss, whatever is believed, and 0 where nothing is
    in doubt."""
    mass = np.interp(WIDE.edges, np.linspace(-8, 48, 8), heights) + 1e-9
    mass = mass / mass.sum()
    table = loss_table(WIDE, LEVELS)
    best = decide(table, mass)
    assert best.loss == pytest.approx((table @ mass).min(), abs=1e-9)
    assert decide(table, toy(0.0, 0.0, 1.0, 0.0)).loss == pytest.approx(0.0, abs=1e-9)


def searched(runs: str) -> EdgeSearch:
    """The search after own runs of a clock from 0 to 20, stock 4."""
    search = edge_search(studied(runs).history)
    assert search is not None
    return search


def bits(mass: np.ndarray) -> float:
    """Entropy of the edge in bits, told to a tolerance of one step (8 cells)."""
    shares = [float(mass[at : at + 8].sum()) for at in range(0, len(mass), 8)]
    return -sum(share * log2(share) for share in shares if share > 0)


Streak = tuple[float, float, float]
"""Fall of loss, that and the price of the bits gained, minutes."""


def brute_force(search: EdgeSearch, value: float, length: int) -> Streak:
    """A streak followed run by run: the posterior is conditioned on every outcome in turn."""
    at, before = search.knob.hardness(value), search.posterior
    spent = search.costs.streak(search.setting(value), 5.0)
    held, failed, minutes, still = before, np.zeros_like(before.mass), 0.0, 1.0
    for run in range(length):
        chance = held.chance(at)
        took = (spent.again_held, spent.again_failed) if run else (spent.held, spent.failed)
        minutes += still * (chance * took[0] + (1 - chance) * took[1])
        failed += still * (1 - chance) * held.updated(Observation(at, 0.0, 1.0)).mass
        held, still = held.updated(Observation(at, 1.0, None)), still * chance
    losses = [float((search.losses @ mass).min()) for mass in (before.mass, held.mass, failed)]
    fall = losses[0] - still * losses[1] - losses[2]
    rest = 1 - still
    gained = bits(before.mass) - still * bits(held.mass) - rest * bits(failed / rest)
    return fall, fall + BIT * gained, minutes


@pytest.mark.parametrize("runs", ["4+", "4+ 9-", "4+ 10+ 13- 12-", "12-", "4+ 10+*3 12- 11+"])
def test_look_ahead_equals_brute_force(runs: str) -> None:
    """For every candidate, the streak with the largest gain per minute, and its figures."""
    search = searched(runs)
    worth = search.worth
    for place, value in enumerate(worth.values):
        streaks = [brute_force(search, value, length) for length in STREAKS]
        fall, gain, minutes = max(streaks, key=lambda streak: streak[1] / streak[2])
        assert worth.chances[place] == pytest.approx(search.chance(value), abs=1e-9)
        assert worth.rates[place] == pytest.approx(gain / minutes, abs=1e-4, rel=1e-3)
        assert worth.falls[place] == pytest.approx(fall, abs=1e-4)
        assert worth.minutes[place] == pytest.approx(minutes, rel=1e-4)


@pytest.mark.parametrize("runs", ["4+", "4+ 9-", "4+ 10+ 13- 12-", "12-"])
def test_looking_costs_nothing(runs: str) -> None:
    """A run that may be ignored never raises the expected loss, and never takes it below 0."""
    search = searched(runs)
    assert (search.worth.falls >= -1e-9).all()
    assert (search.worth.falls <= search.decision.loss + 1e-9).all()


@pytest.mark.parametrize("runs", ["", "4+", "4+ 9-", "4+ 10+ 13- 12-", "12-", "4- 3-"])
def test_the_recommendation_does_not_rise_after_a_failure_there(runs: str) -> None:
    """Nor fall after a pass there."""
    before = searched(runs).recommended
    where = before if before is not None else 0.0
    failed, passed = (searched(f"{runs} {where:g}{end}").recommended for end in "-+")
    rank = [-1.0 if value is None else value for value in (failed, before, passed)]
    assert rank == sorted(rank)
