"""Circuits and supplies."""

import pytest

from planner.trade.mains.circuit import Circuit
from planner.trade.mains.supply import direct_watts, wall_watts


@pytest.mark.parametrize(
    ("volts", "amps", "full", "continuous_amps", "continuous"),
    [(120, 15, 1800, 12, 1440), (120, 20, 2400, 16, 1920), (230, 16, 3680, 12.8, 2944)],
)
def test_ratings(
    volts: float, amps: float, full: float, continuous_amps: float, continuous: float
) -> None:
    """NFPA 70 (NEC) 210.20(A): a device of 125 % of the continuous load; at 230 V arithmetic."""
    circuit = Circuit(volts, amps)
    assert circuit.watts_left(continuous=False) == pytest.approx(full)
    assert circuit.amps_left(continuous=True) == pytest.approx(continuous_amps)
    assert circuit.watts_left(continuous=True) == pytest.approx(continuous)
    assert 1.25 * circuit.amps_left(continuous=True) == pytest.approx(amps)


def test_other_loads_come_off_in_full() -> None:
    """600 W of heater on a 15 A, 120 V circuit leave 840 W of the continuous 1440 W."""
    assert Circuit(120, 15, 600).watts_left(continuous=True) == pytest.approx(840)
    assert Circuit(120, 15, 2000).watts_left(continuous=True) < 0


def test_a_power_factor_costs_watts() -> None:
    """At 0.9 the same amperes carry a tenth less, and 900 W draw as many as 1000 W at 1."""
    assert Circuit(230, 10, power_factor=0.9).watts_left(continuous=False) == pytest.approx(2070)
    assert Circuit(230, 10, power_factor=0.9).amps_of(900) == pytest.approx(1000 / 230)


@pytest.mark.parametrize(
    ("efficiency", "wall"),
    [(0.80, 625), (0.85, 588.24), (0.90, 555.56), (0.92, 543.48), (0.94, 531.91)],
)
def test_wall_watts_of_500_direct(efficiency: float, wall: float) -> None:
    """Arithmetic; what is over is heat."""
    assert wall_watts(500, efficiency) == pytest.approx(wall, abs=0.005)
    assert direct_watts(wall, efficiency) == pytest.approx(500, abs=0.005)


def test_nonsense_is_refused() -> None:
    """Kilovolts, no amperes, an efficiency in per cent."""
    for given in ((12_000, 16), (230, 0), (230, 16, -1), (230, 16, 0, 0.2)):
        with pytest.raises(ValueError, match="expected"):
            Circuit(*given)
    with pytest.raises(ValueError, match="expected"):
        wall_watts(500, 90)
