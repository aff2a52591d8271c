"""What a reading with a stop would come to at a setting, from the runs so far.

A temperature stands above what cools the machine by a rise, and rise, power and current follow the
load of each group (`planner.forecast.load`):

    reading - ambient = a + sum of b_g x_g,    x_g the group's load above stock.

`ambient` is the knob that sets the coolant, where there is one, else the room's reading, else left
out. Beforehand a load that is a tenth higher is held to raise by 7 %, +/- 5 %, what the reading
stands above the ambient. The truth is no straight line (leakage grows with heat), so the farther a
setting lies from what ran, the wider the interval: by 12 % of the reading for each 100 % of load,
and 30 % for its square. These figures were chosen on simulated machines, seeds 0 to 499.

Learnt from are runs of the study's workload since the last told change that held for its length, or
until heat had settled.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from operator import sub

from planner.domain.definition import Definition
from planner.domain.knob import Setting, Value
from planner.domain.quantity import conversion
from planner.domain.run import Run
from planner.domain.tables import Reading, Role
from planner.forecast.load import Load, load_of
from planner.forecast.regression import Line, Prior, line_through
from planner.history import History, once
from planner.trade.student import t_cdf, t_quantile

LIKELY = 0.25
"""A setting is not proposed if a reading passes its stop with a larger chance."""
LEVEL = 0.9
"""Share of readings that lie within the interval given."""
_FEWEST, _MOST = 2, 200
"""Readings without which nothing is forecast, and how many of the latest are looked at."""
_SHARE, _SHARE_SD = 0.7, 0.5
"""Of the reading at stock that follows the load of all groups together."""
_NOISE = 0.02
"""Of the reading: how much it differs from run to run, before any was made."""
_BEND, _CURL = 0.12, 0.3
"""Of the reading, for the load between a setting and the nearest one that ran, and its square."""


@dataclass(frozen=True, slots=True)
class Predicted:
    """What a reading would come to at one setting, in its unit."""

    value: float
    low: float
    high: float
    """Ends of the central interval of `LEVEL`."""
    past_stop: float
    """Chance that it passes its stop."""


@dataclass(frozen=True)
class ReadingForecast:
    """One reading as the runs so far tell it."""

    reading: Reading
    load: Load
    line: Line
    rows: tuple[tuple[float, ...], ...]
    """The loads that it was learnt at, each once, shape (n, g)."""
    scale: float
    """What the reading stands above the ambient, about; in its unit."""
    coolant: str
    """The knob whose value is the ambient; empty: none is."""
    room: float
    """The ambient where no knob is: the last reading of the room; 0 where it is left out."""

    def at(self, setting: Mapping[str, Value]) -> Predicted:
        """What it would come to at a setting."""
        load = self.load.of(setting)
        mean, deviation = self.line.at((1.0, *load))
        away = min([sum(map(abs, map(sub, load, row))) for row in self.rows])
        bend = self.scale * (_BEND * away + _CURL * away**2)
        deviation = (deviation**2 + bend**2) ** 0.5
        mean += float(setting[self.coolant]) if self.coolant else self.room
        half = self._reach * deviation
        stop = self.reading.stop
        past = 0.0 if stop is None else t_cdf((mean - stop) / deviation, self.line.freedom)
        return Predicted(mean, mean - half, mean + half, past)

    @cached_property
    def _reach(self) -> float:
        """Standard deviations from the middle to either end of the interval."""
        return t_quantile((1 + LEVEL) / 2, self.line.freedom)


def forecast_readings(history: History, setting: Mapping[str, Value]) -> dict[str, Predicted]:
    """What each reading that can be forecast would come to at a setting."""
    return {f.reading.name: f.at(setting) for f in forecasts_of(history)}


@once
def forecasts_of(history: History) -> tuple[ReadingForecast, ...]:
    """Forecasts of temperatures, watts and amperes, as far as runs tell."""
    definition = history.definition
    wanted = [r for r in definition.readings.values() if _follows_load(r)]
    if not wanted:
        return ()
    load = load_of(definition)
    found = (_forecast(history, reading, load) for reading in wanted)
    return tuple(forecast for forecast in found if forecast is not None)


def is_temperature(reading: Reading) -> bool:
    """Whether it is measured in degrees Celsius."""
    return reading.unit in ("C", "\N{DEGREE SIGN}C")


def _follows_load(reading: Reading) -> bool:
    """A temperature that is not the room's, a power, or a current."""
    if reading.role in (Role.ROOM, Role.HUMIDITY):
        return False
    if is_temperature(reading):
        return True
    return any(conversion(reading.unit, unit) is not None for unit in ("W", "A"))


def _settled(history: History) -> Iterator[Run]:
    """Runs that a reading can be learnt from, the latest first."""
    workload, latest = history.definition.workload, len(history.changes)
    least = workload.settle_minutes or 0.9 * workload.minutes
    return (
        run
        for run in reversed(history.evidence)
        if run.workload == workload.name
        and run.epoch == latest
        and run.outcome.held
        and run.run_minutes >= least
    )


def _forecast(history: History, reading: Reading, load: Load) -> ReadingForecast | None:
    definition = history.definition
    coolant, room = "", 0.0
    known = list(islice((r for r in _settled(history) if reading.name in r.readings), _MOST))[::-1]
    values = [run.readings[reading.name] for run in known]
    if is_temperature(reading):
        coolant = _coolant(definition)
        name = definition.reading_of(Role.ROOM)
        told = [run for run in known if name in run.readings]
        if coolant:
            values = [
                v - float(_ran(definition, run)[coolant])
                for v, run in zip(values, known, strict=True)
            ]
        elif len(told) >= _FEWEST:
            known, room = told, latest_reading(history, name) or 0.0
            values = [run.readings[reading.name] - run.readings[name] for run in known]
    if len(known) < _FEWEST:
        return None
    rows = tuple(load.of(_ran(definition, run)) for run in known)
    scale = max(abs(sorted(values)[len(values) // 2]), 1e-6)
    groups = len(load.groups)
    each = scale / max(groups, 1)
    prior = Prior(
        means=(sorted(values)[len(values) // 2], *[_SHARE * each] * groups),
        deviations=(scale, *[_SHARE_SD * each * groups**0.5] * groups),
        noise=max(_NOISE * scale, 0.5),
    )
    line = line_through([(1.0, *row) for row in rows], values, prior)
    at = tuple(dict.fromkeys(rows))
    return ReadingForecast(reading, load, line, at, scale, coolant, room)


def latest_reading(history: History, name: str) -> float | None:
    """The last value of a reading since the last told change; None: none was recorded."""
    if name not in history.definition.readings:
        return None
    latest = len(history.changes)
    runs = reversed(history.evidence)
    return next((r.readings[name] for r in runs if r.epoch == latest and name in r.readings), None)


def _coolant(definition: Definition) -> str:
    return next((name for name, knob in definition.knobs.items() if knob.cools), "")


def _ran(definition: Definition, run: Run) -> Setting:
    """What ran; a knob that was added later stood at stock."""
    return {**definition.stock, **run.ran}
