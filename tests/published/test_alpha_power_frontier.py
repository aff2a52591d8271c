"""The frontier of a part that follows the alpha-power law, recovered from passes and crashes alone.

Speed over voltage, f ~ (V - Vt)^a / V with Vt = 0.35 V, relative to 1 V: Sakurai and Newton, IEEE
J. Solid-State Circuits 25 (1990) 584 (the formula from memory, the values computed from it).
"""

import pytest

from planner import Study
from tests.models.frontier.bench import definition, drive

SATURATED = {0.6: 48.1264, 0.7: 63.8856, 0.8: 77.4995, 0.9: 89.4214, 1.1: 109.4963, 1.2: 118.1071}
"""Per cent of the speed at 1 V for a = 1.3, as tabulated."""


def speed(volts: float, exponent: float) -> float:
    """Per cent of the speed at 1 V."""
    return 100 * ((volts - 0.35) / 0.65) ** exponent / volts


@pytest.mark.parametrize("volts", SATURATED)
def test_the_curve_is_the_tabulated_one(volts):
    assert speed(volts, 1.3) == pytest.approx(SATURATED[volts], abs=1e-4)


@pytest.mark.parametrize("exponent", [1.3, 2.0])
def test_the_frontier_is_the_curve_within_a_step(exponent):
    """At every voltage asked about, the clock kept holds, and one step more is at the curve."""
    study = Study.create(definition())
    runs = drive(study, lambda clock, volts: clock <= speed(volts, exponent))
    points = [point for point in study.frontier().points if point.asked]
    curves = {point.along: speed(point.along, exponent) for point in points}
    assert runs <= 6 * len(points)
    for point in points:
        if curves[point.along] < 40:
            assert point.kept is None
            continue
        assert point.kept is not None
        assert 0 <= curves[point.along] - point.kept < 2 * 2
    inside = [p.interval[0] - 2 <= curves[p.along] <= p.interval[1] + 2 for p in points]
    assert sum(inside) >= len(points) - 1
