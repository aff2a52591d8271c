"""Speed and power of silicon."""

import pytest

from planner.trade.heat.silicon import drive, power_ratio


@pytest.mark.parametrize(
    ("exponent", "volts", "ratio"),
    [
        (1.3, 0.6, 0.481264),
        (1.3, 0.8, 0.774995),
        (1.3, 1.1, 1.094963),
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
    """Patterson and Hennessy, sec. 1.7: all three by 0.85 give 0.52 (from memory)."""
    assert power_ratio(0.85, 0.85, 0.85) == pytest.approx(0.52, abs=0.005)
    assert power_ratio(1.3 / 1.2, 1.1) == pytest.approx(1.290972, abs=1e-6)
    assert power_ratio(0.9, 1.0) == pytest.approx(0.81)
