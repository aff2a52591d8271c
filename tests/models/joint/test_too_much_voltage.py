"""A crash at a raised voltage tells of too much voltage, too: help that folds back, and past none.

Leakage grows with voltage and heat with leakage, so a clock may hold at stock and fail at the
ceiling (common practice, no source; `planner/rigs/evening/parts.py` is of such physics).
"""

from typing import Any

from planner import Study
from planner.models.joint.posterior import joint_posterior
from tests.models.joint.bench import small

CLOCKS = (4300.0, 4250.0, 4225.0)


def chances(at_the_ceiling: str, **facts: Any) -> tuple[float, float, float]:
    """At 4225 MHz with stock, half of the rise, and all of it, after runs at the ceiling."""
    study = Study.create(small())
    stock = study.history.definition.stock
    study.record("pass", settings=stock, minutes=12)
    for clock in CLOCKS:
        settings = {**stock, "clock": clock, "volts": 1.3}
        study.record(at_the_ceiling, settings=settings, minutes=12, **facts)
    asked = [{**stock, "clock": 4225.0, "volts": volts} for volts in (1.1, 1.2, 1.3)]
    low, middle, high = joint_posterior(study.history).chances(asked).mean(axis=0)
    return float(low), float(middle), float(high)


def test_instant_crashes_at_the_ceiling_ask_for_less_voltage() -> None:
    """A clock hardly over stock that crashes at once at the ceiling holds rather below it."""
    low, middle, high = chances("crash", failed_after_s=2)
    assert high < 0.3
    assert middle > high + 0.1
    assert low > high + 0.3


def test_passes_at_the_ceiling_tell_nothing_against_it() -> None:
    """What held there holds; less voltage is no safer for it."""
    low, _, high = chances("pass")
    assert high > 0.9
    assert high > low - 0.02
