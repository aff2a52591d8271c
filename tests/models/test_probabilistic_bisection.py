"""The exact reference for noisy search, checked before anything is compared with it."""

from fractions import Fraction
from math import log2

import pytest

from planner.trade.search_cost import best_split
from tests.models.probabilistic_bisection import Density


def after(answers: str, correct: Fraction) -> Density:
    """Posterior after answers R and L, each to a query at the median."""
    density = Density()
    for answer in answers:
        density = density.answered(density.median(), answer == "R", correct)
    return density


def entropy(density: Density) -> float:
    """Differential entropy in bits."""
    return -sum(
        float(mass) * log2(height)
        for mass, height in zip(density.masses, density.heights, strict=True)
        if height
    )


@pytest.mark.parametrize(
    ("answers", "query"),
    [
        ("", "1/2"),
        ("R", "2/3"),
        ("RR", "7/9"),
        ("RL", "5/9"),
        ("RRL", "19/27"),
        ("RLR", "17/27"),
        ("RRRR", "73/81"),
    ],
)
def test_queries_in_exact_fractions(answers: str, query: str) -> None:
    """Rule of Horstein 1963 (from memory), answers right with 3/4; fractions worked by hand."""
    assert after(answers, Fraction(3, 4)).median() == Fraction(query)


def test_density_after_three_answers() -> None:
    """Right, left, right at 3/4: heights 3/8, 9/8, 27/8, 9/8, worked by hand."""
    density = after("RLR", Fraction(3, 4))
    assert list(map(str, density.cuts)) == ["0", "1/2", "5/9", "2/3", "1"]
    assert list(map(str, density.heights)) == ["3/8", "9/8", "27/8", "9/8"]


@pytest.mark.parametrize(
    ("correct", "bits"),
    [
        ("0.6", 0.029049),
        ("0.7", 0.118709),
        ("0.75", 0.188722),
        ("0.8", 0.278072),
        ("0.9", 0.531004),
        ("0.95", 0.713603),
        ("0.99", 0.919207),
    ],
)
@pytest.mark.parametrize("answers", ["", "RLR"])
def test_each_query_yields_the_channel_capacity(correct: str, bits: float, answers: str) -> None:
    """Expected entropy falls by 1 - H2(p) (Jedynak, Frazier & Sznitman 2012, from memory)."""
    chance = Fraction(correct)
    before = after(answers, chance)
    left, right = (before.answered(before.median(), r, chance) for r in (False, True))
    drop = entropy(before) - (entropy(left) + entropy(right)) / 2
    assert drop == pytest.approx(bits, abs=1e-6)


@pytest.mark.parametrize("answers", ["RRRR", "LLLL", "RLLR", "LRRL"])
def test_certain_answers_are_plain_bisection(answers: str) -> None:
    """At p = 1 the medians are the cuts that best_split makes of 16 cells at equal costs."""
    low, high = 0, 16
    for asked in range(4):
        cut = low + best_split(high - low, 1, 1)
        assert after(answers[:asked], Fraction(1)).median() * 16 == cut
        low, high = (cut, high) if answers[asked] == "R" else (low, cut)
    assert high - low == 1
