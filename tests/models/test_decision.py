"""What a recommendation costs in expectation, and what the next run is worth, by other means."""

from math import log2

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.models import decision
from planner.models.decision import NONE, decide, loss_table
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.evidence import Observation
from planner.models.hazard import Shapes
from planner.models.look_ahead import STREAKS
from tests.models.bench import studied

SHAPES = Shapes((0.4,), (0.1,))
LEVELS = np.array([0.0, 1.0, 2.0])
WIDE = EdgeGrid(steps=40, tolerance=1.0, target=0.9, shapes=SHAPES)


def toy(below: float, first: float, second: float, third: float) -> np.ndarray:
    """Probabilities that no level is sound, and that the hardest sound one is 0, 1 or 2."""
    mass = np.zeros(len(WIDE.edges))
    for place, share in ((-1.5, below), (0.5, first), (1.5, second), (9.0, third)):
        mass[np.abs(WIDE.edges - place).argmin()] += share
    return mass


@pytest.mark.parametrize(
    ("shares", "losses", "best"),
    [
        # level 0: 3 x below + 0.1 x second + (0.1 + 2 log2 2) x third
        # level 1: 3 x (below + first) + 0.1 x third; level 2: 3 x (1 - third); none: 3 (1 - below)
        ((0.0, 0.2, 0.5, 0.3), (0.68, 0.63, 2.1, 3.0), 1),
        ((0.1, 0.1, 0.1, 0.7), (1.78, 0.67, 0.9, 2.7), 1),
        ((0.0, 0.02, 0.02, 0.96), (2.018, 0.156, 0.12, 3.0), 2),
        ((0.9, 0.1, 0.0, 0.0), (2.7, 3.0, 3.0, 0.3), NONE),
        ((0.2, 0.7, 0.1, 0.0), (0.61, 2.7, 3.0, 2.4), 0),
    ],
)
def test_losses_by_hand(
    shares: tuple[float, float, float, float], losses: tuple[float, ...], best: int
) -> None:
    """Three levels in a wide range: unsound 3, one tolerance low 0.1, two 0.1 + 2 log2 2; and
    recommending none costs 3 where one is sound."""
    table, mass = loss_table(WIDE, LEVELS), toy(*shares)
    assert table @ mass == pytest.approx(losses, abs=1e-9)
    assert decide(table, mass).index == best
    assert decide(table, mass).loss == pytest.approx(min(losses), abs=1e-9)


def by_definition(steps: int, near: float, level: float, levels: list[float], edge: float) -> float:
    """The loss in the words of the module's docstring, one level and one edge at a time."""
    unsound = 2.0 if near > 1 else 3.0
    if level > edge:
        return unsound
    low = (max(at for at in levels if at <= edge) - level) / near
    first = max(0.1, min(16 * (near / steps) ** 2, 2.0))
    return first * min(low, 1) + 2 * log2(1 + max(low - 1, 0))


@given(
    st.sampled_from([(4, 1.0), (12, 1.0), (20, 2.0), (300, 7.5)]),
    st.lists(st.integers(0, 20), min_size=1, max_size=6, unique=True),
)
def test_the_table_is_the_stated_loss(size: tuple[int, float], places: list[int]) -> None:
    """Every level against every edge, also where ceilings or rules leave holes in the range."""
    grid, levels = EdgeGrid(*size, 0.9, SHAPES), [float(place) for place in sorted(places)]
    table = loss_table(grid, np.array(levels))
    for row, level in zip(table, levels, strict=False):
        stated = [by_definition(*size, level, levels, edge) for edge in grid.edges]
        assert row == pytest.approx(stated, abs=1e-9)
    none = np.where(grid.edges >= levels[0], 2.0 if size[1] > 1 else 3.0, 0.0)
    assert table[-1] == pytest.approx(none)


def test_the_constants_are_documented() -> None:
    """The module's text states the losses that its code has."""
    text = " ".join((decision.__doc__ or "").split())
    assert f"costs {decision.UNSOUND:g} if it is unsound" in text
    first, each = decision.FIRST_TOLERANCE, decision.EACH_TOLERANCE
    assert f"{first:g} min(d, 1) + {each:g} log2(1 + max(d - 1, 0))" in text


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


def brute_force(search: EdgeSearch, value: float, length: int) -> tuple[float, float]:
    """Fall of loss and minutes of a streak, from posteriors conditioned run by run."""
    at = search.knob.hardness(value)
    table, before = search.losses, search.posterior
    spent = search.costs.streak(search.setting(value), 5.0)
    held, failed_mass, minutes, still = before, np.zeros_like(before.mass), 0.0, 1.0
    for run in range(length):
        chance = held.chance(at)
        took = (spent.held, spent.failed) if run == 0 else (spent.again_held, spent.again_failed)
        minutes += still * (chance * took[0] + (1 - chance) * took[1])
        failed = held.updated(Observation(at, 0.0, 1.0))
        failed_mass = failed_mass + still * (1 - chance) * failed.mass
        held, still = held.updated(Observation(at, 1.0, None)), still * chance
    after = still * (table @ held.mass).min() + (table @ failed_mass).min()
    return float((table @ before.mass).min() - after), minutes


@pytest.mark.parametrize("runs", ["4+", "4+ 9-", "4+ 10+ 13- 12-", "12-", "4+ 10+*3 12- 11+"])
def test_look_ahead_equals_brute_force(runs: str) -> None:
    """For every candidate, the streak with the largest fall of loss per minute."""
    search = searched(runs)
    worth = search.worth
    for place, value in enumerate(worth.values):
        streaks = [brute_force(search, value, length) for length in STREAKS]
        rates = [fall / minutes for fall, minutes in streaks]
        assert worth.chances[place] == pytest.approx(search.chance(value), abs=1e-9)
        assert worth.rates[place] == pytest.approx(max(rates), abs=2e-5)
        found = worth.falls[place], worth.minutes[place]
        assert min(
            max(abs(found[0] - fall), abs(found[1] - minutes) / 100) for fall, minutes in streaks
        ) == pytest.approx(0.0, abs=1e-3)


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
