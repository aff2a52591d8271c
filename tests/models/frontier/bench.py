"""Frontier studies of a clock along a voltage, and a bench that answers by a known curve."""

from collections.abc import Callable
from typing import Any

from planner import Study

OFTEN = 400
"""A study that asks for more runs than this never ends."""


def definition(**study: Any) -> dict[str, Any]:
    """A clock in per cent of 40 to 160 along a voltage of 0.6 to 1.3 V."""
    clock = {"name": "clock", "unit": "%", "low": 40, "high": 160, "step": 2, "stock": 80}
    volts = {"name": "volts", "unit": "V", "low": 0.6, "high": 1.3, "step": 0.05, "stock": 0.9}
    volts |= {"harder": "down", "supports": ["clock"], "everyday": 1.2, "own_risk": 1.3}
    return {
        "study": {"name": "ridge", "aim": "frontier", "knob": "clock", "along": "volts", **study},
        "rig": {"reboot_minutes": 4},
        "knob": [clock | {"where": "live"}, volts | {"where": "live"}],
        "workload": [{"name": "loop", "minutes": 5}],
    }


def drive(study: Study, holds: Callable[[float, float], bool]) -> int:
    """Ask and answer until it closes; `holds` is told clock and volts. Gives the runs made."""
    for runs in range(OFTEN):
        proposal = study.next()
        if proposal is None:
            return runs
        clock, volts = (float(proposal.settings[name]) for name in ("clock", "volts"))
        study.record("pass" if holds(clock, volts) else "crash", number=proposal.number)
    raise AssertionError("it never ends")
