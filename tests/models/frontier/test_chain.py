"""The chain of edges against sums over every path, and the laws of what a run may teach."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.models.edge_grid import EdgeGrid
from planner.models.frontier.chain import Chain
from planner.models.frontier.slopes import RISES, change_of_rise, first_rises
from planner.models.hazard import Shapes

pytestmark = pytest.mark.slow

SMALL = EdgeGrid(1, 1.0, 0.9, Shapes((0.3,), (0.2,)), cells=1)
LARGE = EdgeGrid(20, 1.0, 0.9, Shapes((0.2, 0.5), (0.2,)), cells=2)
gaps = st.floats(0.25, 2.0)


def flat(grid: EdgeGrid) -> np.ndarray:
    """Every shape and edge alike, shape (m, n)."""
    weights = np.ones((len(grid.shapes.width), len(grid.edges)))
    return weights / weights.size


def one_step(chain: Chain, gap: float) -> np.ndarray:
    """Probability of (edge, rise) after (edge, rise), found by walking single states on."""
    count, rises = len(chain.grid.edges), len(RISES)
    table = np.zeros((count, rises, count, rises))
    for edge, rise in product(range(count), range(rises)):
        state = np.zeros((1, count, rises))
        state[0, edge, rise] = 1.0
        table[edge, rise] = chain._onward(state, gap)[0]
    return table


def test_the_chain_is_the_sum_over_every_path():
    """Forward and backward give what brute force gives: each path's probability, added up."""
    chain = Chain(SMALL, flat(SMALL), (1.0, 0.5), 1.5)
    rng = np.random.default_rng(1)
    seen = [rng.uniform(0.05, 1.0, size=flat(SMALL).shape) for _ in range(3)]
    first = chain.first[0][:, None] * first_rises() * seen[0][0][:, None]
    ahead, beyond = (one_step(chain, gap) for gap in chain.gaps)
    paths = np.einsum(
        "ab,abcd,c,cdef,e->abcdef", first, ahead, seen[1][0], beyond, seen[2][0], optimize=True
    )
    paths /= paths.sum()
    wanted = [paths.sum(axis=(2, 3, 4, 5)), paths.sum(axis=(0, 1, 4, 5)), paths.sum((0, 1, 2, 3))]
    for found, exact in zip(chain.smoothed(seen), wanted, strict=True):
        assert found[0] == pytest.approx(exact, abs=1e-12)


@given(gaps)
def test_rises_change_into_rises(gap: float) -> None:
    """Each row is a probability, and a rise is likelier to shrink than to grow."""
    table = change_of_rise(gap)
    assert table.sum(axis=1) == pytest.approx(1.0)
    middle = len(RISES) - 5
    assert table[middle, :middle].sum() > table[middle, middle + 1 :].sum()
    assert first_rises().sum() == pytest.approx(1.0)


@settings(max_examples=25)
@given(st.integers(0, 4), st.floats(2.0, 18.0), gaps)
def test_what_holds_at_one_station_speaks_for_its_neighbours(
    place: int, passed: float, gap: float
) -> None:
    """A pass never lowers the chance to hold anywhere, nor does a failure raise it."""
    chain = Chain(LARGE, flat(LARGE), (gap,) * 4, 3.0)
    nothing = [np.ones_like(chain.first)] * 5
    holds = LARGE.survival(passed, 1.0)
    for likelihood, sign in ((holds, 1), (1 - holds, -1)):
        told = [*nothing[:place], likelihood, *nothing[place + 1 :]]
        for before, after in zip(chain.smoothed(nothing), chain.smoothed(told), strict=True):
            change = (after.sum(axis=2) * holds).sum() - (before.sum(axis=2) * holds).sum()
            assert sign * change >= -1e-9


def test_a_failure_in_between_tells_the_two_sides_apart():
    """What is known at both ends leaves less open in the middle than what is known at one."""
    chain = Chain(LARGE, flat(LARGE), (1.0,) * 4, 3.0)
    known = np.exp(-0.5 * ((LARGE.edges - 4) / 0.3) ** 2)[None, :] * np.ones((2, 1))
    far = np.exp(-0.5 * ((LARGE.edges - 14) / 0.3) ** 2)[None, :] * np.ones((2, 1))
    nothing = np.ones_like(chain.first)

    def spread(seen: list[np.ndarray]) -> float:
        mass = chain.smoothed(seen)[2].sum(axis=(0, 2))
        mean = (mass * LARGE.edges).sum()
        return float(np.sqrt((mass * (LARGE.edges - mean) ** 2).sum()))

    one = spread([known, nothing, nothing, nothing, nothing])
    both = spread([known, nothing, nothing, nothing, far])
    assert both < 0.7 * one
