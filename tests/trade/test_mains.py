"""Circuits and supplies."""

import pytest

from planner.domain.mains import Mains
from planner.trade.mains import amps_drawn, amps_left, direct_watts, wall_watts, watts_left


@pytest.mark.parametrize(
    ("volts", "amps", "full", "continuous_amps", "continuous"),
    [(120, 15, 1800, 12, 1440), (120, 20, 2400, 16, 1920), (230, 16, 3680, 12.8, 2944)],
)
def test_ratings(
    volts: float, amps: float, full: float, continuous_amps: float, continuous: float
) -> None:
    """NFPA 70 (NEC) 210.20(A): a device of 125 % of the continuous load; at 230 V arithmetic."""
    mains = Mains(volts, amps)
    assert watts_left(mains, continuous=False) == pytest.approx(full)
    assert amps_left(mains, continuous=True) == pytest.approx(continuous_amps)
    assert watts_left(mains, continuous=True) == pytest.approx(continuous)
    assert 1.25 * amps_left(mains, continuous=True) == pytest.approx(amps)


@pytest.mark.parametrize(("amps", "full"), [(10, 2300), (13, 2990)])
def test_smaller_fuses_at_230_volts(amps: float, full: float) -> None:
    """Arithmetic; no standard of 230 V practice asks for a fifth less."""
    assert watts_left(Mains(230, amps), continuous=False) == pytest.approx(full)


def test_other_loads_come_off_in_full() -> None:
    """600 W of heater on a 15 A, 120 V circuit leave 840 W of the continuous 1440 W."""
    assert watts_left(Mains(120, 15, 600), continuous=True) == pytest.approx(840)
    assert watts_left(Mains(120, 15, 2000), continuous=True) < 0


def test_a_power_factor_costs_watts() -> None:
    """At 0.9 the same amperes carry a tenth less, and 900 W draw as many as 1000 W at 1."""
    mains = Mains(230, 10, power_factor=0.9)
    assert watts_left(mains, continuous=False) == pytest.approx(2070)
    assert amps_drawn(mains, 900) == pytest.approx(1000 / 230)


@pytest.mark.parametrize(
    ("efficiency", "wall"),
    [(0.80, 625), (0.85, 588.24), (0.90, 555.56), (0.92, 543.48), (0.94, 531.91)],
)
def test_wall_watts_of_500_direct(efficiency: float, wall: float) -> None:
    """Arithmetic; what is over is heat."""
    assert wall_watts(500, efficiency) == pytest.approx(wall, abs=0.005)
    assert direct_watts(wall, efficiency) == pytest.approx(500, abs=0.005)


@pytest.mark.parametrize(
    "given", [{"volts": 12_000}, {"amps": 0}, {"other_watts": -1}, {"efficiency": 90}]
)
def test_nonsense_is_refused(given: dict[str, float]) -> None:
    """Kilovolts, no amperes, an efficiency in per cent."""
    with pytest.raises(ValueError, match="expected"):
        Mains(**{"volts": 230, "amps": 16, **given})
