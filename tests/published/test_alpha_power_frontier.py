"""The frontier of a part that follows the alpha-power law, recovered from passes and crashes alone.

Speed over voltage, f ~ (V - Vt)^a / V with Vt = 0.35 V, relative to 1 V: Sakurai and Newton, IEEE
J. Solid-State Circuits 25 (1990) 584 (the formula from memory, the values computed from it).
"""

import pytest

from planner import Study
from tests.models.frontier.bench import definition, drive

TABULATED = {
    1.3: {
        0.6: 48.1264,
        0.7: 63.8856,
        0.8: 77.4995,
        0.9: 89.4214,
        1.1: 109.4963,
        1.2: 118.1071,
        1.3: 125.9824,
    },
    2.0: {0.8: 59.9112, 1.2: 142.5049},
    1.0: {1.2: 108.9744},
}
"""Per cent of the speed at 1 V, by exponent and voltage."""
LISTED = [(a, volts, told) for a, row in TABULATED.items() for volts, told in row.items()]


def speed(volts: float, exponent: float) -> float:
    """Per cent of the speed at 1 V."""
    return 100 * ((volts - 0.35) / 0.65) ** exponent / volts


@pytest.mark.parametrize(("exponent", "volts", "told"), LISTED)
def test_the_curve_is_the_tabulated_one(exponent, volts, told):
    assert speed(volts, exponent) == pytest.approx(told, abs=1e-4)


@pytest.mark.slow
@pytest.mark.parametrize("exponent", [1.0, 1.3, 2.0])
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


@pytest.mark.slow
def test_the_least_voltage_for_each_clock_is_the_curve_s_too():
    """The same part asked the other way round: at each clock the voltage kept is the least that
    holds, or one step more; the curve at that voltage bears the clock."""
    raw = definition()
    clock, volts = raw["knob"]
    raw["study"] |= {"knob": "volts", "along": "clock"}
    clock |= {"low": 60, "high": 116, "step": 4, "stock": 80}
    volts |= {"step": 0.02, "low": 0.6, "high": 1.3, "stock": 0.9, "supports": []}
    raw["knob"] = [volts, clock]
    study = Study.create(raw)
    runs = drive(study, lambda clock, volts: clock <= speed(volts, 1.3))
    points = [point for point in study.frontier().points if point.asked]
    assert runs <= 6 * len(points)
    for point in points:
        assert point.kept is not None
        assert speed(point.kept, 1.3) >= point.along
        assert speed(point.kept - 2 * 0.02 - 1e-9, 1.3) < point.along
    assert study.frontier().best == 116
