"""The alpha-power law against figures of its formula."""

import numpy as np
import pytest

from planner.rigs.alpha_power import AlphaPower


def part(volts: float, exponent: float, rise: float = 0.0) -> AlphaPower:
    """A part at 25 °C, where the terms of temperature drop out."""
    return AlphaPower(
        scale=1000.0,
        volts=volts,
        threshold_volts=0.35,
        exponent=exponent,
        at_once=0.0,
        rise=rise,
        tau_s=60.0,
        low=0.0,
        step=1.0,
        noise=0.1,
        spread=0.1,
        room=25.0,
    )


@pytest.mark.parametrize(
    ("exponent", "volts", "ratio"),
    [
        (1.3, 0.6, 0.481264),
        (1.3, 0.8, 0.774995),
        (1.3, 1.2, 1.181071),
        (2.0, 0.8, 0.599112),
        (2.0, 1.2, 1.425049),
        (1.0, 1.2, 1.089744),
    ],
)
def test_speed_against_one_volt(exponent: float, volts: float, ratio: float) -> None:
    """f(V) / f(1.0 V) with f ~ (V - 0.35)^a / V: Sakurai and Newton 1990, figures computed."""
    at, reference = (part(v, exponent).fastest(np.array([25.0]))[0] for v in (volts, 1.0))
    assert at / reference == pytest.approx(ratio, abs=1e-6)


@pytest.mark.parametrize(("taus", "share"), [(1, 0.632121), (3, 0.950213), (5, 0.993262)])
def test_warming_is_a_first_order_step(taus: int, share: float) -> None:
    """After 1, 3 and 5 time constants: 1 - exp(-n) of the rise (JESD51 form)."""
    celsius = part(1.2, 1.3, rise=10.0).celsius(1000.0, np.array([60.0 * taus]))
    assert celsius[0] - 25 == pytest.approx(10 * share, abs=1e-5)


def test_hotter_is_slower() -> None:
    """Well above the threshold, heat costs more drive than the falling threshold gives back."""
    speeds = part(1.2, 1.3).fastest(np.array([20.0, 40.0, 60.0, 80.0]))
    assert np.all(np.diff(speeds) < 0)


def test_slack_shrinks_while_it_warms_up() -> None:
    """The end of a run is harder than its start."""
    assert np.all(np.diff(part(1.2, 1.3, rise=10.0).slack(500.0, 300)) < 0)
