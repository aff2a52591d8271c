"""The table of survival against the law that it stands for."""

import numpy as np
import pytest
from scipy import integrate, stats

from planner.models.joint.survival import SPREADS, log_survival, spread_class


@pytest.mark.parametrize("row", range(0, 10, 3))
@pytest.mark.parametrize("y", [-8.0, -3.0, -1.0, 0.0, 1.5, 4.0])
def test_the_table_is_the_integral(row: int, y: float) -> None:
    """Against adaptive quadrature of the normal mixture (scipy), at the table's own ratios."""
    ratio = float(SPREADS[row])

    def held(z: float) -> float:
        return float(np.exp(-np.exp(y - ratio * z)) * stats.norm.pdf(z))

    exact, _ = integrate.quad(
        held, -8, 8, limit=200, points=[y / ratio] if abs(y / ratio) < 8 else None
    )
    offset = spread_class(np.array([np.log(ratio)]))
    found = float(np.exp(log_survival(np.array([y]), offset)[0]))
    assert found == pytest.approx(exact, abs=0.02)


def test_it_falls_with_hardness_and_is_a_chance() -> None:
    """For every ratio, from one to none."""
    y = np.linspace(-20, 20, 400)
    for ratio in SPREADS:
        logs = log_survival(y, np.broadcast_to(spread_class(np.array([np.log(ratio)])), y.shape))
        assert np.all(np.diff(logs) <= 1e-12)
        assert logs[0] > -0.02
        assert logs[-1] < -2.5
