"""How a setting is handed to the person's commands: environment, JSON file, arguments."""

import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from planner.domain.drive import Command
from planner.domain.knob import Value
from planner.domain.quantity import format_number
from planner.driving.left_over import TOKEN
from planner.errors import DefinitionError

_PREFIX = "PLANNER_"
_FILE = "PLANNER_SETTINGS"
WORKLOAD = "PLANNER_WORKLOAD"
"""Names the workload that is run."""
_PLACE = re.compile(r"^([\w.:/=,+-]*)\{([^\W\d]\w*)\}$")
_TAKEN = (_FILE, WORKLOAD, "PLANNER_BENCH", TOKEN, "PLANNER_STATE", "PLANNER_STUDIES")


def check_names(knobs: Iterable[str]) -> None:
    """Raises DefinitionError where two knobs, or a knob and the planner, share a variable."""
    seen: dict[str, str] = {}
    for knob in knobs:
        variable = _variable(knob)
        if variable in _TAKEN or variable in seen:
            other = f"knob {seen[variable]}" if variable in seen else "the planner"
            raise DefinitionError(
                f"study.toml: [[knob]] name = {knob!r}: would be handed over as {variable}, which"
                f" {other} uses; expected another name"
            )
        seen[variable] = knob


def handed_over(setting: Mapping[str, Value], scratch: Path) -> dict[str, str]:
    """The environment's variables for a setting, whose JSON file is written into `scratch`.

    Numbers are in the knob's unit and carry none.
    """
    path = scratch / "settings.json"
    path.write_text(json.dumps(dict(setting), indent=1) + "\n", encoding="ascii")
    told = {_variable(name): _text(value) for name, value in setting.items()}
    return told | {_FILE: str(path.resolve())}


def filled(command: Command, told: Mapping[str, str]) -> Command:
    """The command with the values of `told` in arguments that are `{knob}`, or end in it.

    An argument with anything but a plain word before it is left alone: it may be a program for a
    shell, where braces mean something else.
    """
    return tuple(_PLACE.sub(lambda found: _value(found, told), argument) for argument in command)


def _value(found: re.Match[str], told: Mapping[str, str]) -> str:
    return found[1] + told.get(_variable(found[2]), f"{{{found[2]}}}")


def _variable(knob: str) -> str:
    return _PREFIX + knob.upper()


def _text(value: Value) -> str:
    return value if isinstance(value, str) else format_number(value)
