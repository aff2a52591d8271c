"""Definitions for tests: the smallest one that is taken, and what refusing one says."""

from collections.abc import Mapping
from typing import Any

from planner.domain.definition import Definition
from planner.domain.parse import parse_text
from planner.errors import DefinitionError
from planner.store import definition_text

Tables = dict[str, Any]


def clock(**changes: Any) -> Tables:
    """A `[[knob]]` table: a clock in MHz."""
    return {
        "name": "clock",
        "unit": "MHz",
        "low": 4000,
        "high": 5000,
        "step": 100,
        "stock": 4200,
    } | changes


def volts(name: str = "volts", **changes: Any) -> Tables:
    """A `[[knob]]` table: a voltage that supports nothing."""
    return {
        "name": name,
        "unit": "V",
        "low": 1.0,
        "high": 1.4,
        "step": 0.005,
        "stock": 1.2,
        "harder": "down",
    } | changes


def ratio(name: str = "ratio", **changes: Any) -> Tables:
    """A `[[knob]]` table: a bare factor."""
    return {"name": name, "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 40} | changes


def mode(**changes: Any) -> Tables:
    """A `[[knob]]` table: a choice."""
    return {"name": "mode", "harder": "choice", "choices": ["a", "b"], "stock": "a"} | changes


def tables(*knobs: Tables, **others: Any) -> Tables:
    """A whole definition; without knobs it has the clock alone."""
    return {"knob": list(knobs) or [clock()], **others}


def read(given: Mapping[str, Any]) -> Definition:
    """The definition by way of its TOML text."""
    return parse_text(definition_text(given))


def refusal(given: Mapping[str, Any] | str) -> str:
    """What is said when the definition, as tables or as TOML, is refused."""
    text = given if isinstance(given, str) else definition_text(given)
    try:
        parse_text(text)
    except DefinitionError as error:
        return str(error)
    raise AssertionError("the definition was taken")
