"""The knobs of a memory study for a module: where each begins, and how far it may go.

A study begins at what the module says of itself and searches upwards in data rate, downwards in
timings. A timing's range reaches down to 0.6 of its clocks (refresh: 0.4, where tuned sets are;
both common practice, no source) and up to the same time at the highest rate. Supply voltage may
rise by 0.3 V in the range; ceilings are for the person to fill in.
"""

from dataclasses import dataclass
from math import ceil

from planner.domain.memory import Standard
from planner.trade.timing.clocks import same_time
from planner.trade.timing.spd.module import Module

TIMED = ("tCL", "tRCD", "tRP", "tRAS", "tRC", "tRFC")
"""The timings that become knobs."""
_FASTER = 1.5
"""The highest data rate against the module's own."""
_LOW_SHARE = {"tRFC": 0.4}
_OTHER_LOW_SHARE = 0.6
_MOST_STEPS = 60
"""Below stock; a longer timing is searched in steps of 2, 4, 8 ... clocks."""
_VOLTS = 0.3


@dataclass(frozen=True, slots=True)
class Range:
    """The values of one knob."""

    low: float
    high: float
    step: float
    stock: float


def ranges(module: Module) -> dict[str, Range]:
    """By knob: `data_rate` in MT/s, timings in clocks, `memory_voltage` in V."""
    clocks = module.timings().clocks
    rate = _rates(module.rate)
    found = {"data_rate": rate}
    for name in TIMED:
        found[name] = _clocks(name, clocks[name], module, rate.high)
    high = round(module.volts + _VOLTS, 2)
    found["memory_voltage"] = Range(module.volts, high, 0.01, module.volts)
    return found


def _rates(own: int) -> Range:
    """Steps of a reference clock of 100 MHz, or of 133 MHz where the rate's name is of those."""
    step = 200 if own % 200 == 0 else 133
    return Range(own, own + step * ceil(own * (_FASTER - 1) / step), step, own)


def _clocks(name: str, stock: int, module: Module, top_rate: float) -> Range:
    step = 2 if name == "tCL" and module.standard is Standard.DDR5 else 1
    lowest = stock * _LOW_SHARE.get(name, _OTHER_LOW_SHARE)
    while (stock - lowest) / step > _MOST_STEPS:
        step *= 2
    highest = same_time(stock, module.rate, top_rate)
    low = stock - step * int((stock - lowest) / step)
    return Range(low, stock + step * ceil((highest - stock) / step), step, stock)
