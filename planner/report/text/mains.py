"""What a circuit leaves for the bench, with the cautions that go with it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from typing import Any

from planner.domain.definition import Definition
from planner.domain.mains import Code, Mains
from planner.domain.quantity import conversion, format_number
from planner.domain.tables import Role
from planner.report.text.layout import labelled, prose
from planner.trade.mains import (
    CONTINUOUS_HOURS,
    CONTINUOUS_SHARE,
    amps_drawn,
    amps_left,
    direct_watts,
    watts_left,
)

_PEAKS = (
    "A meter shows an average over a second or so. It does not show the peaks of milliseconds that"
    " parts draw, which may be far above it and are what trips supplies and breakers: nothing here"
    " says that yours do not trip."
)
_WIRING = (
    "This is arithmetic on the figures given, no judgement of your wiring: cable, plug, socket,"
    " extension lead and supply may each bear less than the breaker. The electrical code where you"
    " are and licensed people decide; a breaker that trips, or a plug that gets warm, is a reason"
    " to stop and have it looked at."
)


@dataclass(frozen=True, slots=True)
class Draw:
    """A power at the wall that is held against the circuit."""

    what: str
    watts: float


def mains_text(mains: Mains, draws: Sequence[Draw], hours: float, width: int) -> str:
    """The circuit, what is left of it, and each power held against that."""
    lasting = hours >= CONTINUOUS_HOURS
    volts, amps = format_number(mains.volts), format_number(mains.amps)
    lines = prose(f"Mains: a circuit of {amps} A at {volts} V", width)
    whole = mains.amps * mains.volts * mains.power_factor
    rows = [("Circuit", f"{amps} A, {_watts(whole)} in all")]
    if lasting:
        share = f"{CONTINUOUS_SHARE:.0%} of it, {_amps(mains.amps * CONTINUOUS_SHARE)}"
        rows.append(("Lasting", f"{share}, for {format_number(hours)} h: {_rule(mains.code)}"))
    if mains.other_watts:
        rows.append(("Others", f"{_watts(mains.other_watts)} of other loads come off in full"))
    left, current = watts_left(mains, lasting), amps_left(mains, lasting)
    free = f"{_watts(floor(left))} at the wall, {_amps(current)}" if left > 0 else "NOTHING"
    rows.append(("Bench", free))
    if mains.efficiency is not None and left > 0:
        direct = direct_watts(left, mains.efficiency)
        rows.append(
            ("", f"{_watts(direct)} behind a supply of {mains.efficiency:.0%}; the rest is heat")
        )
    rows += [(draw.what, _held_against(mains, draw.watts, left)) for draw in draws]
    body = labelled(rows, width)
    return "\n".join([*lines, "", *body, "", *prose(_PEAKS, width), "", *prose(_WIRING, width)])


def mains_document(mains: Mains, draws: Sequence[Draw], hours: float) -> dict[str, Any]:
    """For `mains --json`."""
    lasting = hours >= CONTINUOUS_HOURS
    left = watts_left(mains, lasting)
    behind = None if mains.efficiency is None else direct_watts(max(left, 0.0), mains.efficiency)
    return {
        "circuit": {"volts": mains.volts, "amps": mains.amps, "other_watts": mains.other_watts},
        "power_factor": mains.power_factor,
        "efficiency": mains.efficiency,
        "hours": hours,
        "share": CONTINUOUS_SHARE if lasting else 1.0,
        "rule": _rule(mains.code) if lasting else None,
        "left": {"watts": left, "amps": amps_left(mains, lasting), "direct_watts": behind},
        "draws": [
            {
                "what": draw.what,
                "watts": draw.watts,
                "amps": amps_drawn(mains, draw.watts),
                "too_much": draw.watts > left,
            }
            for draw in draws
        ],
        "cautions": [_PEAKS, _WIRING],
    }


def wall_notes(definition: Definition) -> list[str]:
    """That a stop at the wall lies above what the circuit leaves for a load that lasts."""
    name, mains = definition.reading_of(Role.WALL), definition.mains
    reading = definition.readings.get(name)
    if mains is None or reading is None:
        return []
    left = floor(max(0.0, watts_left(mains, continuous=True)))
    if reading.stop is None:
        return [f"{name} has no stop: the circuit in [mains] leaves {_watts(left)} for hours."]
    stop = reading.stop * (conversion(reading.unit, "W") or 1.0)
    if stop <= left:
        return []
    over = f"{name} has its stop at {_watts(stop)}, above what the circuit in [mains] leaves"
    return [f"{over} for hours, {_watts(left)}."]


def _held_against(mains: Mains, watts: float, left: float) -> str:
    text = f"{_watts(watts)} at the wall, {_amps(amps_drawn(mains, watts))}: "
    if watts > left:
        return f"{text}TOO MUCH, by {_watts(watts - max(left, 0.0))}"
    return f"{text}{_watts(left - watts)} to spare"


def _rule(code: Code) -> str:
    if code is Code.NEC:
        return "NFPA 70 (NEC) 210.20(A), loads of 3 h or more"
    return "a caution for loads of 3 h or more, no code is cited for it here"


def _watts(value: float) -> str:
    return f"{format_number(round(value))} W"


def _amps(value: float) -> str:
    return f"{format_number(round(value, 1))} A"
