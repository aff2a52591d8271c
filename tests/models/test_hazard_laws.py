"""Laws of the one curve that every estimate stands on: `planner.models.hazard`."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from planner import Study
from planner.errors import DefinitionError
from planner.models.hazard import Shapes
from tests.models.bench import definition

pytestmark = pytest.mark.slow

positive = st.floats(0.01, 20.0)
lapses = st.floats(0.0, 0.1)
shapes = st.builds(
    Shapes,
    widths=st.lists(positive, min_size=1, max_size=3).map(tuple),
    spreads=st.lists(st.floats(1e-6, 5.0), min_size=1, max_size=3).map(tuple),
    lapse=lapses,
)
shares = st.floats(0.0, 50.0)
distances = st.lists(st.floats(-80.0, 80.0), min_size=2, max_size=12)
targets = st.floats(0.05, 0.89)


def rows(held_possible: Shapes, places: list[float]) -> NDArray[np.float64]:
    """Distances past the location, easiest first, for each shape, shape (m, n)."""
    return np.tile(np.sort(np.array(places)), (len(held_possible.width), 1))


@given(shapes, distances, shares)
def test_harder_never_holds_better(shape: Shapes, places: list[float], share: float) -> None:
    """The chance to hold is a probability, and falls or stays as the setting gets harder."""
    chance = shape.survival(rows(shape, places), share)
    assert ((chance >= 0) & (chance <= 1)).all()
    assert (np.diff(chance, axis=1) <= 1e-12).all()


@given(shapes, distances, st.lists(shares, min_size=2, max_size=6))
def test_longer_never_holds_better(shape: Shapes, places: list[float], times: list[float]) -> None:
    """Neither does a longer run, and one of no length always holds."""
    beyond = rows(shape, places)
    chances = np.array([shape.survival(beyond, share) for share in [0.0, *sorted(times)]])
    assert (chances[0] == 1).all()
    assert (np.diff(chances, axis=0) <= 1e-12).all()


@given(shapes, distances, shares, st.floats(0.0, 0.5))
def test_more_stray_crashes_never_help(
    shape: Shapes, places: list[float], share: float, more: float
) -> None:
    """A larger lapse lowers the chance to hold, at easy settings to (1 - lapse)^t."""
    worse = Shapes(shape.widths, shape.spreads, shape.lapse + more)
    beyond = rows(shape, places)
    assert (worse.survival(beyond, share) <= shape.survival(beyond, share) + 1e-12).all()
    easy = np.full((len(shape.width), 1), -60 * max(shape.width) - 3 * max(shape.spread))
    assert shape.survival(easy, share) == pytest.approx((1 - shape.lapse) ** share, abs=1e-9)


@given(positive, st.floats(0.5, 3.0), distances)
def test_without_shift_and_lapse_it_is_the_cloglog_curve(
    width: float, share: float, places: list[float]
) -> None:
    """log(-log S) is a straight line in hardness with slope 1 / width (textbook)."""
    shape = Shapes((width,), (1e-9,), 0.0)
    beyond = rows(shape, [width * place / 80 for place in places])  # where neither log overflows
    line = np.log(-np.log(shape.survival(beyond, share)))
    assert line == pytest.approx(np.log(share) + beyond / width, abs=1e-6)


@given(positive, st.floats(0.01, 5.0), st.floats(-3.0, 3.0))
def test_the_shift_is_a_normal_one(width: float, spread: float, place: float) -> None:
    """The mean over 15 quantiles is the integral over a normal shift, by brute force, to within
    the weight of one of them."""
    shift = np.linspace(-8, 8, 4001)
    weight = np.exp(-(shift**2) / 2)
    scale = width + spread
    held = np.exp(-np.exp(np.minimum((place * scale - spread * shift) / width, 60.0)))
    exact = float((held * weight).sum() / weight.sum())
    found = Shapes((width,), (spread,), 0.0).survival(np.array([[place * scale]]), 1.0)
    assert float(found[0, 0]) == pytest.approx(exact, abs=1 / 15)


@given(shapes, targets)
def test_the_edge_holds_with_the_target(shape: Shapes, target: float) -> None:
    """What `edge_beyond` gives is where a nominal run holds with just the target probability."""
    edge = shape.edge_beyond(target)
    assert shape.survival(edge[:, None], 1.0)[:, 0] == pytest.approx(target, abs=1e-6)


@given(positive, st.floats(0.0, 0.01), targets)
def test_the_edge_in_closed_form(width: float, lapse: float, target: float) -> None:
    """Without shift: L + s log(-log(target / (1 - lapse))), by hand."""
    edge = Shapes((width,), (1e-9,), lapse).edge_beyond(target)
    by_hand = width * np.log(-np.log(target / (1 - lapse)))
    assert edge == pytest.approx(by_hand, abs=1e-5 * width)


@given(shapes, st.tuples(targets, targets))
def test_a_higher_target_has_an_easier_edge(shape: Shapes, pair: tuple[float, float]) -> None:
    """Who asks for more stops sooner."""
    low, high = sorted(pair)
    assert (shape.edge_beyond(high) <= shape.edge_beyond(low) + 1e-9).all()


@given(lapses, st.floats(0.0, 0.05))
def test_a_target_that_stray_crashes_forbid_is_refused(lapse: float, above: float) -> None:
    """At 1 - lapse and above there is no edge; at 0 and below neither."""
    shape = Shapes((1.0,), (0.1,), lapse)
    for target in (1 - lapse + above, 0.0, -above):
        with pytest.raises(ValueError, match=r"target = .*: expected"):
            shape.edge_beyond(target)


@pytest.mark.parametrize("target", [0.985, 0.99, 1.0])
def test_a_study_cannot_ask_for_such_a_target(target: float) -> None:
    """1.5 % of nominal runs crash without the setting's doing (common practice, no source)."""
    assert Shapes((1.0,), (0.1,)).lapse == 0.015
    with pytest.raises(DefinitionError, match=r"target = .*expected .* under 0.985"):
        Study.create(definition(target=target))
    Study.create(definition(target=0.98))


@given(shapes, distances, st.floats(0.001, 50.0))
def test_classes_of_counted_errors_are_all_there_is(
    shape: Shapes, places: list[float], share: float
) -> None:
    """No error, one, a few, many: their chances add up to 1, and no error is to hold."""
    beyond = rows(shape, places)
    classes = [shape.counted(beyond, share, errors) for errors in (1, 2, 10)]
    assert all(((chance >= 0) & (chance <= 1)).all() for chance in classes)
    assert sum(classes) + shape.survival(beyond, share) == pytest.approx(1.0, abs=1e-9)


@given(st.integers(2, 9), st.integers(10, 10**6))
def test_counts_of_one_class_say_the_same(few: int, many: int) -> None:
    """Errors come in bursts: an exact count would be taken for more than it says."""
    shape, beyond = Shapes((0.5,), (0.2,), 0.01), np.linspace(-3, 3, 13)[None, :]
    for count, named in ((few, 2), (many, 10)):
        assert (shape.counted(beyond, 1.0, count) == shape.counted(beyond, 1.0, named)).all()


def test_counts_are_poisson() -> None:
    """At a mean of 2 errors and no shift: e^-2 x 2 for one, and for 2 to 9 the sum of
    e^-2 2^k / k! (textbook, summed by hand: 0.270671, 0.593948)."""
    shape = Shapes((1.0,), (1e-9,), 0.0)
    beyond = np.array([[np.log(2.0)]])
    assert shape.counted(beyond, 1.0, 1)[0, 0] == pytest.approx(0.270671, abs=1e-6)
    assert shape.counted(beyond, 1.0, 5)[0, 0] == pytest.approx(0.593948, abs=1e-6)
    assert shape.counted(beyond, 1.0, 10)[0, 0] == pytest.approx(0.000046, abs=1e-6)
