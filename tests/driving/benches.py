"""Real processes for a bench: short programs of this Python."""

import sys
from pathlib import Path
from typing import Any

from planner.domain.knob import Setting
from planner.domain.parse import parse_text
from planner.driving.attempt import Bench
from planner.driving.fitness import drive_of
from planner.driving.result import Result
from planner.store import definition_text
from tests.domain.makers import clock, tables

NOTHING = "pass"
HANG = "import threading; threading.Event().wait()"
SETTING: Setting = {"clock": 4300.0}


def python(code: str) -> list[str]:
    """The command that runs this code."""
    return [sys.executable, "-I", "-S", "-c", code]


def driven(*knobs: dict[str, Any], minutes: float = 1.0, **drive: Any) -> dict[str, Any]:
    """A definition with a live clock and commands that do nothing, unless told otherwise."""
    commands = {name: python(NOTHING) for name in ("apply", "workload", "restore")}
    return tables(
        *(knobs or (clock(where="live"),)),
        study={"minutes": 600},
        reading=[{"name": "hotspot", "unit": "C", "stop": 95}, {"name": "room", "unit": "C"}],
        workload=[{"name": "load", "minutes": minutes, "subscores": ["shade"]}],
        drive=commands | drive,
    )


def bench(folder: Path, **drive: Any) -> Bench:
    """A bench whose commands start in `folder`."""
    definition = parse_text(definition_text(driven(**drive)))
    scratch = folder / "scratch"
    scratch.mkdir()
    return Bench(definition, drive_of(definition), folder, scratch)


def run(folder: Path, **drive: Any) -> Result:
    """One run on a bench of its own; `minutes` is the nominal run's length."""
    return bench(folder, **drive).run(SETTING, drive.get("minutes", 1.0))
