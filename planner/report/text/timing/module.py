"""The screen of `timing read`: what a module says of itself."""

from typing import Any

from planner.domain.quantity import format_number
from planner.report.text.layout import labelled, prose
from planner.report.text.timing.explained import Explained, explained_rows, sentences
from planner.report.text.timing.figures import at, listed, ns
from planner.report.text.timing.supplied import supply_rows
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.spd.module import Module

_KEPT = ("Wait", "Bin", "Refresh")
"""Of what is said of any set: a data sheet is no set, so which of its minima binds says little."""


def module_text(module: Module, name: str, width: int) -> str:
    """The sentences, to read on a screen `width` wide."""
    title = f"{name}: {module.standard}-{module.rate}"
    lines = [*prose(title, width), "", *labelled(_rows(module), width), ""]
    lines += prose("A memory study of it, with its times as notes:", width)
    return "\n".join([*lines, f"  planner new NAME --spd {name}"])


def module_document(module: Module, name: str) -> dict[str, Any]:
    """For `timing read --json`."""
    timings = module.timings()
    return {
        "file": name,
        "standard": module.standard.value,
        "data_rate": module.rate,
        "clock_ps": module.clock,
        "chip_gigabits": module.gigabits,
        "chip_data_lines": module.width,
        "volts": module.volts,
        "read_latencies": list(module.latencies),
        "least_ps": dict(module.times),
        "least_clocks": dict(module.floors),
        "timings": dict(timings.clocks),
        "sentences": sentences(_rows(module)),
    }


def _rows(module: Module) -> list[tuple[str, str]]:
    timings = module.timings()
    own = listed([at(name, timings.clocks[name]) for name in TIMINGS if name in timings.clocks])
    least = listed([f"{n} {ns(module.times[n] / 1000)}" for n in TIMINGS if n in module.times])
    volts = format_number(module.volts)
    return [
        (
            "Module",
            f"chips of {module.gigabits} Gb with {module.width} data lines, nominally {volts} V;"
            f" its shortest clock is {module.clock} ps; the check sum is right",
        ),
        *supply_rows(module.standard),
        ("Least times", least),
        ("In clocks", f"at its own {module.rate} MT/s, by the standard's rounding: {own}"),
        ("Latencies", f"it supports tCL {listed([str(n) for n in module.latencies])}"),
        *(
            row
            for row in explained_rows(Explained(timings, "", None, module.gigabits))
            if row[0] in _KEPT
        ),
    ]
