"""The score's response against responses that are known."""

import numpy as np
import pytest

from planner.models.joint.curve import Curve


def curve(seed: int, noise: float, runs: int = 24) -> tuple[Curve, np.ndarray]:
    """Six knobs, of which two matter; scores by the law of powers."""
    rng = np.random.default_rng(seed)
    spans = np.array([0.2, 0.15, 0.2, 0.12, 0.3, 0.1])
    powers = np.array([0.6, 0.0, 0.0, 0.3, 0.0, 0.0])
    at = rng.uniform(0, 0.6, (runs, 6))
    at[0] = 0
    scores = 5.0 + at @ (spans * powers) + noise * rng.standard_normal(runs)
    pulls = np.array([1.0, 1.0, 1.0, 1.0, 1.0, 0.0])
    return Curve(spans, pulls, at, np.zeros(runs), scores), powers


@pytest.mark.parametrize("seed", range(4))
def test_elasticities_are_recovered(seed: int) -> None:
    """Those that matter to a tenth, the others near none."""
    found, powers = curve(seed, 0.001)
    assert found.draws[:, :6].mean(axis=0) == pytest.approx(powers, abs=0.1)


def test_noise_is_recovered() -> None:
    """To a factor of two, over three orders."""
    for noise in (0.0005, 0.004, 0.02):
        assert 0.5 <= curve(7, noise)[0].noise / noise <= 2.0


def test_a_hump_is_seen() -> None:
    """A score that falls past a third of the range is predicted to fall, not to go on rising."""
    at = np.linspace(0, 1, 12)[:, None]
    scores = 5 + 0.05 * at[:, 0] - 0.4 * np.maximum(at[:, 0] - 0.35, 0) ** 2
    humped = Curve(np.array([0.2]), np.array([1.0]), at, np.zeros(12), scores)
    mean, _ = humped.predict(np.array([[0.35], [0.9]]))
    assert mean[0] > mean[1]


def test_what_was_never_tried_is_left_open() -> None:
    """The interval widens away from the runs."""
    found, _ = curve(3, 0.001)
    _, sd = found.predict(np.array([[0.3] * 6, [1.0] * 6]))
    assert sd[1] > 2 * sd[0]


def test_a_timing_is_expected_to_pay_less_than_a_clock() -> None:
    """Before any run but stock's, in proportion; what the runs show comes through all the same."""
    spans, pulls = np.array([0.2, 0.2]), np.array([1.0, 0.35])
    before = Curve(spans, pulls, np.zeros((1, 2)), np.zeros(1), np.zeros(1))
    clock, timing = before.predict(np.eye(2))[0]
    assert 0.2 * clock < timing < 0.55 * clock
    steps = np.linspace(0, 1, 8)
    at = np.column_stack([np.zeros(8), steps])
    after = Curve(spans, pulls, at, np.zeros(8), 0.3 * 0.2 * steps)
    assert after.predict(np.array([[0.0, 1.0]]))[0][0] == pytest.approx(0.06, abs=0.01)
