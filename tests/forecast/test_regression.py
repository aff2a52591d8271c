"""The line through readings against numpy, and against slips of the pen."""

import numpy as np
import pytest

from planner.forecast.regression import Prior, line_through

VAGUE = Prior((0.0, 0.0, 0.0), (1e4, 1e4, 1e4), 1.0)


def readings(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray]:
    rows = np.column_stack([np.ones(count), rng.uniform(-1, 1, (count, 2))])
    return rows, rows @ [50.0, 20.0, -5.0] + rng.normal(0, 1, count)


def test_many_clean_readings_give_least_squares() -> None:
    """Reference: numpy.linalg.lstsq; far-off readings weigh a little less, so within 0.1."""
    rows, values = readings(np.random.default_rng(3), 400)
    line = line_through(rows.tolist(), values.tolist(), VAGUE)
    assert line.means == pytest.approx(np.linalg.lstsq(rows, values, rcond=None)[0], abs=0.1)
    assert line.noise == pytest.approx(1.0, abs=0.15)


def test_no_spread_leaves_what_was_known() -> None:
    """Two readings at one place say nothing of the slopes."""
    prior = Prior((40.0, 30.0), (40.0, 15.0), 1.0)
    line = line_through([(1.0, 0.0), (1.0, 0.0)], [50.0, 51.0], prior)
    assert line.means[0] == pytest.approx(50.5, abs=0.1)
    assert line.means[1] == pytest.approx(30.0)
    far, near = line.at((1.0, 1.0))[1], line.at((1.0, 0.0))[1]
    assert far > 10 * near


def test_a_slip_of_the_pen_bends_nothing() -> None:
    """850 for 85 among eight readings moves the forecast by less than 2."""
    rng = np.random.default_rng(8)
    loads = np.linspace(0, 0.4, 8)
    values = 60 + 40 * loads + rng.normal(0, 0.5, 8)
    prior = Prior((60.0, 42.0), (60.0, 30.0), 1.2)
    rows = [(1.0, x) for x in loads]
    clean = line_through(rows, values.tolist(), prior).at((1.0, 0.5))[0]
    slipped = values.copy()
    slipped[3] = 850
    assert line_through(rows, slipped.tolist(), prior).at((1.0, 0.5))[0] == pytest.approx(
        clean, abs=2
    )
