"""What a command is told: the values to set, as arguments, as environment and as a JSON file."""

import json
import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.launch import Command
from planner.domain.quantity import format_number
from planner.drive.process import TOKEN

WITHHELD = ("PGPASSWORD", "PLANNER_STORE")
"""Not handed on: a workload has no business with the store."""
_PLACE = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Order:
    """One run as the commands are told of it."""

    definition: Definition
    settings: Mapping[str, Value]
    """A value for every knob."""
    settings_file: Path
    run: int = 0
    workload: str = ""
    seconds: float = 0.0
    """How long the workload is to run."""
    token: str = field(default="", repr=False)

    def words(self, command: Command) -> tuple[str, ...]:
        """The command with its `{...}` filled in; a shell line stays as it is."""
        if command.shell:
            return command.words
        places = self._places()
        return tuple(
            _PLACE.sub(lambda found: places.get(found[1], found[0]), word) for word in command.words
        )

    def environment(self) -> dict[str, str]:
        """This process's environment with the run and every value of the setting."""
        mine = {name: value for name, value in os.environ.items() if name not in WITHHELD}
        told = {f"PLANNER_{name.upper()}": value for name, value in self._fixed().items()}
        values = {f"PLANNER_SET_{name}": text for name, text in self._values().items()}
        return mine | told | values | {TOKEN: self.token}

    def document(self) -> dict[str, Any]:
        """What stands in the settings file."""
        knobs = self.definition.knobs
        return {
            "schema": 1,
            "run": self.run,
            "workload": self.workload,
            "seconds": self.seconds,
            "settings": dict(self.settings),
            "units": {name: knobs[name].unit for name in self.settings},
        }

    def hand_over(self) -> None:
        """Write the settings file, whole or not at all."""
        text = json.dumps(self.document(), indent=1, allow_nan=False)
        write_whole_file(self.settings_file, text)

    def _places(self) -> dict[str, str]:
        return self._values() | self._fixed()

    def _values(self) -> dict[str, str]:
        return {
            name: value if isinstance(value, str) else format_number(value)
            for name, value in self.settings.items()
        }

    def _fixed(self) -> dict[str, str]:
        return {
            "run": str(self.run),
            "workload": self.workload,
            "seconds": format_number(self.seconds),
            "settings_file": str(self.settings_file),
        }


def write_whole_file(path: Path, text: str, synced: bool = False) -> None:
    """Put a file in the place of an earlier one; readers see the old or the new, never a part."""
    fresh = path.with_name(f".{path.name}.new")
    with fresh.open("w", encoding="utf-8", newline="\n") as file:
        file.write(text)
        if synced:
            file.flush()
            os.fsync(file.fileno())
    os.replace(fresh, path)
