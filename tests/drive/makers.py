"""Studies that drive the made-up machine of rig.py, and a screen that remembers."""

import json
import shutil
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from planner import Study
from planner.domain.run import Proposal, Run
from planner.drive.halt import Halt
from planner.drive.loop import Loop, Wanted
from planner.drive.room import Room
from planner.drive.screen import End
from tests.domain.makers import clock, tables

RIG = Path(__file__).with_name("rig.py")
LIVE = {"low": 4000, "high": 5000, "step": 100, "stock": 4200, "where": "live"}
HOT = {"name": "hotspot", "unit": "C", "stop": 95}


def job(name: str) -> list[str]:
    """A command of the made-up machine."""
    return [sys.executable, "-S", "-E", "rig.py", name]


def driven_tables(
    drive: Mapping[str, Any] | None = None, launch: Mapping[str, Any] | None = None, **more: Any
) -> dict[str, Any]:
    """A study of one live clock with every command but probe, heartbeat and reset."""
    workload = {
        "name": "load",
        "minutes": 0.0002,
        "launch": {"command": job("load"), "limit": 5, "least": 0} | dict(launch or {}),
    }
    whole = tables(clock(**LIVE), rig={"reboot_minutes": 0.01}, reading=[HOT], workload=[workload])
    commands = {"apply": job("apply"), "restore": job("restore"), "boot": 0.5}
    return whole | {"drive": commands | dict(drive or {})} | more


def beating(**more: Any) -> dict[str, Any]:
    """A heartbeat, fast, and a reset."""
    beat = {"command": job("beat"), "every": 0.02, "limit": 2, "misses": 2}
    return {"heartbeat": beat, "reset": job("reset"), **more}


def rigged(folder: Path, given: Mapping[str, Any], **machine: Any) -> Study:
    """A study in `folder` beside a machine in that state."""
    study = Study.create(given, folder)
    shutil.copyfile(RIG, folder / "rig.py")
    told = {"clock": 4200, "stock": 4200, "edge": 4500, "failing": "exits"} | machine
    (folder / "rig.json").write_text(json.dumps(told), encoding="utf-8")
    return study


def machine_of(folder: Path) -> dict[str, Any]:
    """The machine's state."""
    return dict(json.loads((folder / "rig.json").read_text(encoding="utf-8")))


def done(folder: Path) -> list[str]:
    """What the machine was told to do, in order."""
    file = folder / "done.txt"
    return file.read_text(encoding="utf-8").splitlines() if file.exists() else []


class Memory:
    """A screen that remembers, and that may interrupt."""

    def __init__(self, halt: Halt, ask_at: int = 0, times: int = 1) -> None:
        self.asked_for: list[Proposal] = []
        self.runs: list[tuple[Run, str]] = []
        self.words: list[str] = []
        self.ticks: list[float] = []
        self._halt, self._ask_at, self._times = halt, ask_at, times

    def asked(self, proposal: Proposal) -> None:
        self.asked_for.append(proposal)

    def ticked(self, seconds: float, length_s: float, readings: Mapping[str, float]) -> None:
        self.ticks.append(seconds)
        if self._ask_at and len(self.asked_for) >= self._ask_at:
            for _ in range(self._times):
                self._halt.ask()

    def recorded(self, run: Run, why: str) -> None:
        self.runs.append((run, why))

    def said(self, text: str) -> None:
        self.words.append(text)


def driven(
    study: Study, folder: Path, wanted: Wanted | None = None, ask_at: int = 0, times: int = 1
) -> tuple[End, str, Memory]:
    """Drive it to its end."""
    halt = Halt()
    screen = Memory(halt, ask_at, times)
    drive = study.history.definition.drive
    assert drive is not None
    loop = Loop(
        study, drive, Room.of(folder), screen, halt, wanted or Wanted(), agreed=lambda d: True
    )
    how, why = loop.run()
    return how, why, screen
