"""Totals of weighted sub-scores."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planner.domain.combining import Combining
from planner.trade.scores.combined import needed_part, pulls, scaled_weights, total

ARITHMETIC, GEOMETRIC, HARMONIC, SUM = (
    Combining.ARITHMETIC,
    Combining.GEOMETRIC,
    Combining.HARMONIC,
    Combining.SUM,
)
MEANS = (ARITHMETIC, GEOMETRIC, HARMONIC)
scores = st.lists(st.floats(0.1, 1e5), min_size=2, max_size=5)


def of(rule: Combining, values: list[float], weights: list[float] | None = None) -> float:
    parts = {f"s{i}": v for i, v in enumerate(values)}
    given = dict(zip(parts, weights or [1 / len(values)] * len(values), strict=True))
    return total(rule, scaled_weights(rule, given), parts)


def test_no_compensation_under_the_geometric_mean() -> None:
    """OECD/JRC Handbook on Constructing Composite Indicators (2008): 2.14 and 6 (from memory)."""
    assert of(GEOMETRIC, [21, 1, 1, 1]) == pytest.approx(2.140695, abs=1e-6)
    assert of(GEOMETRIC, [6, 6, 6, 6]) == pytest.approx(6)
    assert of(ARITHMETIC, [21, 1, 1, 1]) == of(ARITHMETIC, [6, 6, 6, 6]) == 6


def test_means_worked_by_hand() -> None:
    """60 and 20 km/h over equal ways are 30; 1, 2, 4 have the means 12/7, 2, 7/3."""
    assert of(HARMONIC, [60, 20]) == pytest.approx(30)
    expected = [7 / 3, 2, 12 / 7]
    assert [of(rule, [1, 2, 4]) for rule in MEANS] == pytest.approx(expected)
    assert of(HARMONIC, [2, 4], [0.25, 0.75]) == pytest.approx(3.2)
    assert of(GEOMETRIC, [2, 8], [0.25, 0.75]) == pytest.approx(5.656854, abs=1e-6)


def test_only_the_geometric_mean_of_ratios_is_fair() -> None:
    """Fleming and Wallace 1986 (from memory): 10/20 and 40/20 beat each other arithmetically."""
    assert of(ARITHMETIC, [0.5, 2.0]) == of(ARITHMETIC, [2.0, 0.5]) == 1.25
    assert of(GEOMETRIC, [0.5, 2.0]) == pytest.approx(1)


@given(scores, st.data())
def test_means_equal_scipy(values: list[float], data: st.DataObject) -> None:
    """Reference: scipy.stats.hmean, gmean, and their order h <= g <= a."""
    raw = data.draw(st.lists(st.floats(0.05, 1), min_size=len(values), max_size=len(values)))
    weights = [w / sum(raw) for w in raw]
    h, g, a = (of(rule, values, weights) for rule in (HARMONIC, GEOMETRIC, ARITHMETIC))
    assert h == pytest.approx(stats.hmean(values, weights=weights))
    assert g == pytest.approx(stats.gmean(values, weights=weights))
    assert h <= g * (1 + 1e-12)
    assert g <= a * (1 + 1e-12)


@given(st.sampled_from(list(Combining)), scores)
def test_pulls_are_shares_and_true_slopes(rule: Combining, values: list[float]) -> None:
    """They add up to 1, and equal the total's rise when one part rises by a millionth."""
    parts = {f"s{i}": v for i, v in enumerate(values)}
    weights = scaled_weights(rule, {name: 1 / len(parts) for name in parts})
    found = pulls(rule, weights, parts)
    assert sum(found.values()) == pytest.approx(1)
    before = total(rule, weights, parts)
    for name, pull in found.items():
        after = total(rule, weights, {**parts, name: parts[name] * (1 + 1e-6)})
        assert (after / before - 1) / 1e-6 == pytest.approx(pull, abs=1e-4)


@given(st.sampled_from(list(Combining)), scores, st.floats(0.7, 1.6))
def test_the_needed_part_gives_the_target(
    rule: Combining, values: list[float], factor: float
) -> None:
    """Put in, it makes the total what was asked for."""
    parts = {f"s{i}": v for i, v in enumerate(values)}
    weights = scaled_weights(rule, {name: 1 / len(parts) for name in parts})
    target = total(rule, weights, parts) * factor
    needed = needed_part(rule, weights, parts, "s0", target)
    if needed is not None:
        assert total(rule, weights, {**parts, "s0": needed}) == pytest.approx(target, rel=1e-6)


def test_a_harmonic_mean_is_held_down_by_its_slowest_part() -> None:
    """Of 10 and 10 with equal weights no first part gives 20 or more: it tends to 2 x 10."""
    weights, parts = {"a": 0.5, "b": 0.5}, {"a": 10.0, "b": 10.0}
    assert needed_part(HARMONIC, weights, parts, "a", 20.0) is None
    assert needed_part(HARMONIC, weights, parts, "a", 19.0) == pytest.approx(190)


@pytest.mark.parametrize("weights", [(0.5, 0.3, 0.2), (50, 30, 20), (0.33, 0.33, 0.33)])
def test_weights_may_be_shares_or_per_cent(weights: tuple[float, ...]) -> None:
    """Rounded to two decimals they may miss 1 a little."""
    scaled = scaled_weights(HARMONIC, dict(zip("abc", weights, strict=True)))
    assert sum(scaled.values()) == pytest.approx(1)


@pytest.mark.parametrize(
    ("weights", "told"),
    [((0.5, 0.3, 0.3), "= 1.1: expected to add up to 1"), ((0.5, 0.0, 0.5), "weight of b = 0")],
)
def test_weights_that_do_not_add_up_are_named(weights: tuple[float, ...], told: str) -> None:
    """With what they come to."""
    with pytest.raises(ValueError, match=told):
        scaled_weights(GEOMETRIC, dict(zip("abc", weights, strict=True)))


def test_weights_of_a_sum_are_factors() -> None:
    """They need not add up to anything."""
    assert scaled_weights(SUM, {"a": 2.75, "b": 19.0}) == {"a": 2.75, "b": 19.0}
    assert of(SUM, [2.0, 1.0], [2.75, 19.0]) == pytest.approx(24.5)


def test_a_missing_part_is_named() -> None:
    """Never taken for nought."""
    with pytest.raises(ValueError, match="sub-score b is missing"):
        total(HARMONIC, {"a": 0.5, "b": 0.5}, {"a": 1.0})
