"""`planner mains`."""

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any

from planner.cli.arguments import Json, Name, StudyName, typed
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_as_edited
from planner.domain.mains import Code, Mains
from planner.domain.quantity import conversion, parse_number
from planner.domain.tables import Role
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.history import History
    from planner.report.text.mains import Draw

_LONGEST = 8760


def command(
    name: Name = None,
    study: StudyName = None,
    volts: Annotated[str | None, typed("--volts", "V", "Mains voltage, as 230.")] = None,
    amps: Annotated[str | None, typed("--amps", "A", "Rating of the breaker or fuse.")] = None,
    other: Annotated[
        str | None, typed("--other-watts", "W", "What else hangs on the circuit.")
    ] = None,
    wall: Annotated[str | None, typed("--wall", "W", "Power of the bench at the wall.")] = None,
    direct: Annotated[
        str | None, typed("--direct", "W", "Power behind the supply; needs its efficiency.")
    ] = None,
    efficiency: Annotated[
        str | None, typed("--efficiency", "E", "Of the supply, from its maker, as 0.9.")
    ] = None,
    hours: Annotated[str, typed("--hours", "H", "How long it runs at a stretch.")] = "3",
    code: Annotated[
        str | None, typed("--code", "nec|other", "Whose rule for loads that last.")
    ] = None,
    json: Json = False,
) -> None:
    """What a circuit leaves for the bench: of the study, or of the figures given.

    Arithmetic, no judgement of your wiring: local codes and licensed people decide.
    """
    from planner.report.text.mains import Draw, mains_document, mains_text

    told = {
        "volts": _number("--volts", volts, "V"),
        "amps": _number("--amps", amps, "A"),
        "other_watts": _number("--other-watts", other, "W"),
        "efficiency": _number("--efficiency", efficiency, ""),
        "code": _code(code),
    }
    given = {key: value for key, value in told.items() if value is not None}
    alone = name is None and study is None and {"volts", "amps"} <= given.keys()
    history = None if alone else open_as_edited(name or study).study.history
    mains = _mains(None if history is None else history.definition.mains, given)
    draws = [] if history is None else _recorded(history)
    if (watts := _number("--wall", wall, "W")) is not None:
        draws.append(Draw("Asked", watts))
    if (watts := _number("--direct", direct, "W")) is not None:
        draws.append(Draw("Asked", _at_the_wall(mains, watts)))
    span = _number("--hours", hours, "h") or 0.0
    if not 0 < span <= _LONGEST:
        raise InputError(f"--hours {hours}: expected above 0 and at most {_LONGEST}")
    if json:
        from planner.report.text.json_form import json_text

        out_json(json_text(mains_document(mains, draws, span)))
    else:
        out(mains_text(mains, draws, span, width()))


def _mains(told: Mains | None, given: dict[str, Any]) -> Mains:
    """The circuit of the study, changed by what was typed."""
    try:
        if told is not None:
            return replace(told, **given)
        if not {"volts", "amps"} <= given.keys():
            raise InputError(
                "no circuit is told: expected [mains] with volts and amps in study.toml, or --volts"
                " and --amps"
            )
        return Mains(**given)
    except ValueError as error:
        raise InputError(f"mains: {error}") from None


def _at_the_wall(mains: Mains, direct: float) -> float:
    from planner.trade.mains import wall_watts

    if mains.efficiency is None:
        raise InputError(
            f"--direct {direct:g}: expected --efficiency beside it, from the supply's maker"
        )
    return wall_watts(direct, mains.efficiency)


def _recorded(history: "History") -> "list[Draw]":
    """The highest reading at the wall, and its stop."""
    from planner.report.text.mains import Draw

    name = history.definition.reading_of(Role.WALL)
    if not name:
        return []
    reading = history.definition.readings[name]
    watt = conversion(reading.unit, "W") or 1.0
    values = [run.readings[name] for run in history.evidence if name in run.readings]
    found = [Draw("Highest", max(values) * watt)] if values else []
    return [*found, Draw("Stop", reading.stop * watt)] if reading.stop is not None else found


def _number(flag: str, given: str | None, unit: str) -> float | None:
    if given is None:
        return None
    value = parse_number(given, unit, flag)
    if value < 0:
        raise InputError(f"{flag} {given}: expected 0 or more")
    return value


def _code(given: str | None) -> Code | None:
    if given is None:
        return None
    if given not in tuple(Code):
        raise InputError(f"--code {given!r}: expected one of {', '.join(Code)}")
    return Code(given)
