"""Speed and power of silicon."""

from math import log

import pytest

from planner.trade.heat.silicon import drive, elasticity, power_ratio


@pytest.mark.parametrize(
    ("exponent", "volts", "ratio"),
    [
        (1.3, 0.6, 0.481264),
        (1.3, 0.7, 0.638856),
        (1.3, 0.8, 0.774995),
        (1.3, 0.9, 0.894214),
        (1.3, 1.1, 1.094963),
        (1.3, 1.2, 1.181071),
        (1.3, 1.3, 1.259824),
        (2.0, 0.8, 0.599112),
        (2.0, 1.2, 1.425049),
        (1.0, 1.2, 1.089744),
    ],
)
def test_alpha_power_law(exponent: float, volts: float, ratio: float) -> None:
    """Sakurai and Newton 1990 (formula from memory), threshold 0.35 V; worked outside the code."""
    assert drive(volts, 0.35, exponent) / drive(1.0, 0.35, exponent) == pytest.approx(
        ratio, abs=1e-6
    )


def test_power_of_a_shrunk_part() -> None:
    """Patterson and Hennessy, sec. 1.7: all three by 0.85 give 0.52, here with all its
    digits (print from memory)."""
    assert power_ratio(0.85, 0.85, 0.85) == pytest.approx(0.522006, abs=1e-6)
    assert power_ratio(1.3 / 1.2, 1.1) == pytest.approx(1.290972, abs=1e-6)
    assert power_ratio(0.9, 1.0) == pytest.approx(0.81)


def test_elasticity_is_the_slope_of_the_law() -> None:
    """From the law's values at 0.9 and 1.1 V, worked outside the code: 1.00 about 1 V."""
    slope = log(1.094963 / 0.894214) / log(1.1 / 0.9)
    assert elasticity(1.0, 0.35, 1.3) == pytest.approx(slope, abs=0.02)
    with pytest.raises(ValueError, match=r"0.3 V: expected more than the threshold"):
        elasticity(0.3, 0.35)
