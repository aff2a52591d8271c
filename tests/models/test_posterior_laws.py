"""Laws of the grid posterior: what runs may and may not do to what is believed of an edge."""

from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.grid import Grid
from planner.domain.knob import Knob
from planner.models.edge import SLIP, EdgePosterior, likelihood, posterior
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_prior import edge_prior, grid_for
from planner.models.evidence import Observation
from planner.models.hazard import Shapes

pytestmark = pytest.mark.slow

KNOB = Knob("clock", 4.0, Grid(0.0, 20.0, 1.0))
GRID = grid_for(KNOB, 0.9, None)
PRIOR = edge_prior(GRID, KNOB)
PLACES = [-3.0, 0.0, 4.0, 7.5, 12.0, 20.0, 23.0]

levels = st.integers(0, 20).map(float) | st.sampled_from([3.3, -2.0, 25.0])
lengths = st.sampled_from([0.25, 1.0, 2.0])
weights = st.sampled_from([1.0, 0.3])
passes = st.builds(
    lambda at, length, weight: Observation(at, length, None, length, weight=weight),
    levels,
    lengths,
    weights,
)
failures = st.builds(
    lambda at, length, weight: Observation(at, 0.0, length, length, weight=weight),
    levels,
    lengths,
    weights,
)
timed = st.builds(
    lambda at, length, span: Observation(at, span[0] * length, span[1] * length, length),
    levels,
    lengths,
    st.sampled_from([(0.0, 0.03), (0.03, 0.3), (0.3, 1.0)]),
)
counted = st.builds(
    lambda at, length, errors: Observation(at, length, length, errors=errors),
    levels,
    lengths,
    st.sampled_from([1, 2, 10]),
)
histories = st.lists(passes | failures | timed | counted, max_size=10)


def after(seen: list[Observation]) -> EdgePosterior:
    """The posterior of the knob above."""
    return posterior(GRID, PRIOR, Counter(seen))


def chances(edge: EdgePosterior) -> np.ndarray:
    """Chance of a nominal run at each of the places, shape (7,)."""
    return np.array([edge.chance(place) for place in PLACES])


def close(one: np.ndarray, other: np.ndarray | float, within: float) -> bool:
    """Whether arrays agree everywhere."""
    return bool(np.abs(one - other).max() <= within)


def test_the_prior_is_a_probability() -> None:
    """It sums to 1, and with nothing seen the posterior is the prior."""
    assert PRIOR.sum() == pytest.approx(1.0)
    assert (PRIOR > 0).all()
    assert close(after([]).weights, PRIOR, 1e-12)


@given(histories)
def test_it_stays_a_probability(seen: list[Observation]) -> None:
    """Whatever was seen, contradictions too, weights are at least 0 and sum to 1."""
    edge = after(seen)
    assert (edge.weights >= 0).all()
    assert edge.weights.sum() == pytest.approx(1.0)
    assert edge.mass.sum() == pytest.approx(1.0)


@given(histories.flatmap(lambda seen: st.tuples(st.just(seen), st.permutations(seen))))
def test_order_does_not_matter(pair: tuple[list[Observation], list[Observation]]) -> None:
    """Not even in the last bit, so that replaying a ledger gives the same proposal."""
    one, other = pair
    assert (after(one).weights == after(other).weights).all()


@given(histories, passes | failures | timed, st.integers(1, 40))
def test_repeats_are_counted(seen: list[Observation], again: Observation, times: int) -> None:
    """n identical runs are one with the count n, and n updates one after another."""
    many = after([*seen, *[again] * times])
    counts = Counter(seen)
    counts[again] += times
    assert (many.weights == posterior(GRID, PRIOR, counts).weights).all()
    assert close(after(seen).updated(again, times).weights, many.weights, 1e-9)


@given(histories, levels, lengths)
def test_the_ends_of_a_run_are_all_there_is(
    seen: list[Observation], at: float, length: float
) -> None:
    """Failed early, later, late or held: chances sum to 1, so the posteriors after each, weighed
    by them, average to the one before; a slip of the pen may take a millionth each."""
    spans = [(0.0, 0.03), (0.03, 0.3), (0.3, 1.0)]
    ends = [Observation(at, low * length, high * length, length) for low, high in spans]
    ends.append(Observation(at, length, None, length))
    tables = [likelihood(GRID, end) for end in ends]
    assert close(sum(tables), 1.0, 5 * SLIP)
    before = after(seen)
    odds = [float((before.weights * table).sum()) for table in tables]
    mean = sum(p * before.updated(end).weights for p, end in zip(odds, ends, strict=True))
    assert close(mean, before.weights, 10 * SLIP)


@given(levels, lengths)
def test_a_failure_without_time_is_one_at_any_time(at: float, length: float) -> None:
    """Its likelihood is the sum over the three spans of time."""
    spans = [(0.0, 0.03), (0.03, 0.3), (0.3, 1.0)]
    parts = [likelihood(GRID, Observation(at, a * length, b * length, length)) for a, b in spans]
    whole = likelihood(GRID, Observation(at, 0.0, length, length))
    assert close(sum(parts), whole, 3 * SLIP)


single = st.builds(
    lambda width, spread, edges: (EdgeGrid(20, 1.0, 0.9, Shapes((width,), (spread,))), edges),
    st.sampled_from([0.05, 0.4, 3.0]),
    st.sampled_from([0.1, 0.4]),
    st.lists(st.floats(0.0, 1.0), min_size=8, max_size=8),
)


@given(single, passes, failures)
def test_of_one_shape_a_pass_never_lowers_a_chance(
    drawn: tuple[EdgeGrid, list[float]], held: Observation, failed: Observation
) -> None:
    """Nor does a failure raise one, at any value and under any prior over edges: chances all
    rise with the edge, so they are positively associated (Chebyshev's sum inequality)."""
    grid, heights = drawn
    prior = np.interp(np.linspace(0, 7, len(grid.edges)), range(8), heights)[None, :] + 1e-6
    before = posterior(grid, prior, Counter())
    assert (chances(before.updated(held)) >= chances(before) - 1e-9).all()
    assert (chances(before.updated(failed)) <= chances(before) + 1e-9).all()


@given(st.floats(0.0, 21.0), st.lists(st.integers(0, 20), max_size=7), st.integers(0, 20))
def test_a_pass_never_lowers_a_chance(cut: float, seen: list[int], at: int) -> None:
    """Nor a failure raise one, by a thousandth even, with the shape unknown too, as long as
    passes and failures stay separated. (Where they contradict each other the law can't hold:
    a pass far beyond failures says that the edge is wide.)"""
    runs = [Observation(float(h), *((1.0, None) if h < cut else (0.0, 1.0))) for h in [*seen, at]]
    gained = chances(after(runs)) - chances(after(runs[:-1]))
    assert ((gained if at < cut else -gained) >= -1e-3).all()


@given(histories)
def test_harder_never_holds_better(seen: list[Observation]) -> None:
    """Mean chance and both ends of its interval fall as the setting gets harder."""
    edge = after(seen)
    assert (np.diff(chances(edge)) <= 1e-9).all()
    ends = np.array([edge.chance_interval(place) for place in PLACES])
    assert (np.diff(ends, axis=0) <= 1e-9).all()


@given(histories, st.sampled_from(PLACES), st.sampled_from([0.5, 0.9, 0.99]))
def test_the_interval_of_a_chance_holds_its_share(
    seen: list[Observation], at: float, level: float
) -> None:
    """At least `level` of the probability lies on or between its ends, at most half of the rest
    strictly below or above; a wider level encloses a narrower one."""
    edge = after(seen)
    low, high = edge.chance_interval(at, level)
    row = edge.grid.survival(at, 1.0)
    assert edge.weights[(row >= low) & (row <= high)].sum() >= level - 1e-9
    assert edge.weights[row < low].sum() <= (1 - level) / 2 + 1e-9
    assert edge.weights[row > high].sum() <= (1 - level) / 2 + 1e-9
    wider = edge.chance_interval(at, (1 + level) / 2)
    assert wider[0] <= low <= high <= wider[1]


@given(histories, st.lists(st.floats(0.0, 1.0), min_size=2, max_size=8))
def test_quantiles_rise(seen: list[Observation], shares: list[float]) -> None:
    """They rise with their share, from the grid's one end to the other."""
    edge = after(seen)
    found = [edge.quantile(share) for share in sorted(shares)]
    assert found == sorted(found)
    ends = GRID.edges[0] - GRID.cell / 2, GRID.edges[-1] + GRID.cell / 2
    assert all(ends[0] - 1e-9 <= quantile <= ends[1] + 1e-9 for quantile in found)
    assert edge.interval(0.5)[0] >= edge.interval(0.9)[0]
    assert edge.interval(0.5)[1] <= edge.interval(0.9)[1]


@given(histories, st.floats(0.02, 0.98))
def test_a_quantile_has_its_share_below(seen: list[Observation], share: float) -> None:
    """The cells below it hold that share, to within the cell that it lies in."""
    edge = after(seen)
    quantile = edge.quantile(share)
    below = edge.mass[GRID.edges < quantile - GRID.cell / 2 - 1e-9].sum()
    upto = edge.mass[GRID.edges < quantile + GRID.cell / 2 + 1e-9].sum()
    assert below - 1e-9 <= share <= upto + 1e-9


@given(passes | failures | timed | counted)
def test_one_entry_can_do_only_so_much(seen: Observation) -> None:
    """A run on record with the wrong outcome is possible: no likelihood is 0, none above 1."""
    table = likelihood(GRID, seen)
    assert table.min() >= SLIP
    assert table.max() <= 1 + 1e-12
