"""How cold a machine may be cooled: not below the dew point, nor below its own low edge.

A surface below the dew point (`planner.trade.heat.dew_point`) gathers water from the room's air. So
a knob that sets the coolant is not proposed below the room's temperature unless the room's
temperature and humidity were recorded since the last told change, and then not below the dew point
and a margin.

A part can also be too cold to start or to run, whatever its clock: a failure at a coolant
temperature at or under which nothing has held, where the same setting held when warmer, closes that
temperature and all below it until a change is told of. To search that low edge itself, make the
coolant the study's knob with harder = "down".
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.domain.tables import Role
from planner.forecast.readings import latest_reading
from planner.history import History
from planner.trade.heat.dew_point import COLDEST, MARGIN, WARMEST, dew_point

DRIEST = 2.0
"""Per cent: drier air is a slip, as 0.45 for 45 %, and would put the dew point far too low."""


@dataclass(frozen=True, slots=True)
class Floor:
    """The coldest value of a coolant knob that may be proposed."""

    knob: str
    value: float
    """°C."""
    why: str
    """What sets it, in words."""


def floors_of(history: History) -> tuple[Floor, ...]:
    """The floors of every knob that sets what cools the machine."""
    definition = history.definition
    cooling = [knob for knob in definition.knobs.values() if knob.cools]
    found = []
    for knob in cooling:
        found.append(_dry_floor(history, knob))
        if (cold := _cold_edge(history, knob)) is not None:
            found.append(cold)
    return tuple(found)


def room_dew_point(history: History) -> float | None:
    """°C of the dew point by the last readings; None: room or humidity is not known."""
    definition = history.definition
    room = latest_reading(history, definition.reading_of(Role.ROOM))
    humidity = latest_reading(history, definition.reading_of(Role.HUMIDITY))
    if room is None or humidity is None:
        return None
    if not (DRIEST <= humidity <= 100 and COLDEST <= room <= WARMEST):
        return None
    return dew_point(room, humidity)


def cold_objections(
    definition: Definition, floors: tuple[Floor, ...], setting: Mapping[str, Value]
) -> list[str]:
    """Why a setting is too cold, in words; empty where it is not."""
    found = []
    for floor in floors:
        value, knob = setting[floor.knob], definition.knobs[floor.knob]
        if not isinstance(value, str) and value < floor.value - 1e-9:
            found.append(f"{floor.knob} = {knob.show(value)} is {floor.why}")
    return found


def _dry_floor(history: History, knob: Knob) -> Floor:
    dew, room = (
        room_dew_point(history),
        latest_reading(history, history.definition.reading_of(Role.ROOM)),
    )
    if dew is not None and room is not None:
        floor = min(dew + MARGIN, room)
        why = f"less than {MARGIN:g} C above the dew point, {format_number(round(dew, 1))} C"
        return Floor(knob.name, floor, f"{why}: water may settle")
    stock = float(knob.stock)
    if room is None:
        need = "room temperature and humidity are not recorded"
        return Floor(knob.name, stock, f"colder than stock, and {need}: water may settle")
    humidity = latest_reading(history, history.definition.reading_of(Role.HUMIDITY))
    known = (
        "is not recorded"
        if humidity is None
        else f"was recorded as {format_number(humidity)}, expected per cent, {DRIEST:g} to 100"
    )
    why = f"colder than the room, {format_number(room)} C, and its humidity {known}"
    return Floor(knob.name, room, f"{why}: water may settle")


def _cold_edge(history: History, knob: Knob) -> Floor | None:
    """Just above the warmest temperature at which cold was the likeliest cause of a failure."""
    latest = len(history.changes)
    runs = [run for run in history.evidence if run.epoch == latest and knob.name in run.ran]
    held = [run for run in runs if run.outcome.held]
    coldest = min((float(run.ran[knob.name]) for run in held), default=inf)
    too_cold = [
        float(run.ran[knob.name])
        for run in runs
        if run.outcome.failed
        and float(run.ran[knob.name]) < coldest
        and any(_same_but_warmer(knob.name, run, other) for other in held)
    ]
    if not too_cold or knob.grid is None:
        return None
    warmest = max(too_cold)
    return Floor(
        knob.name,
        warmest + knob.grid.step / 2,
        f"at or below {knob.show(warmest)}, where it failed though the same setting held warmer:"
        " a low edge of its own",
    )


def _same_but_warmer(name: str, cold: Run, warm: Run) -> bool:
    if float(warm.ran[name]) <= float(cold.ran[name]) or warm.workload != cold.workload:
        return False
    return all(warm.ran.get(n) == v for n, v in cold.ran.items() if n != name)
