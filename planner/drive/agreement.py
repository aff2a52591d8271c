"""What the person has agreed to let a study run.

An agreement is bound to the exact text of every command, to the scripts in the study's folder
that they name, byte for byte, and to the folder. It is kept in the person's state folder, where
no study file reaches: a study from a stranger runs nothing before it was seen.
"""

import hashlib
import json
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from planner.domain.definition import Definition
from planner.domain.launch import Command
from planner.errors import LedgerUnwritable

CODE = 8
"""Digits of an agreement's name that a person types where there is no terminal to answer on."""
_SCRIPTS = frozenset([".bat", ".cmd", ".js", ".lua", ".pl", ".ps1", ".py", ".rb", ".sh", ".tcl"])
_LARGEST_SCRIPT = 20_000_000


class Terms(Protocol):
    """What can be agreed to."""

    @property
    def folder(self) -> Path:
        """The study's folder, resolved."""
        ...

    @property
    def text(self) -> str:
        """All of it, as it is kept."""
        ...


@dataclass(frozen=True, slots=True)
class RunTerms:
    """All that a study may run."""

    folder: Path
    commands: tuple[tuple[str, Command], ...]
    """Each with the name of its key."""
    scripts: tuple[tuple[str, str], ...]
    """Files of the study's folder that they run, with their SHA-256."""
    files: tuple[str, ...] = ()
    """Files of the study's folder that are deleted before a run and read after it."""

    @property
    def text(self) -> str:
        """All of it, as it is kept."""
        commands = [{"key": key, "words": c.words, "shell": c.shell} for key, c in self.commands]
        return _text(
            self.folder, {"commands": commands, "scripts": self.scripts, "files": self.files}
        )


@dataclass(frozen=True, slots=True)
class PlaceTerms:
    """Where a study keeps its ledger beyond its own folder."""

    folder: Path
    places: tuple[tuple[str, str], ...]
    """Each with the name of its key."""

    @property
    def text(self) -> str:
        """All of it, as it is kept."""
        return _text(self.folder, {"places": self.places})


def run_terms(definition: Definition, folder: Path) -> RunTerms:
    """What the study in a folder may run."""
    home = folder.resolve()
    commands = list(definition.drive.commands()) if definition.drive else []
    launches = {n: w.launch for n, w in definition.workloads.items() if w.launch is not None}
    commands += [(f"workload {name}", launch.command) for name, launch in launches.items()]
    files = {launch.judging.result_file for launch in launches.values()} - {""}
    named = {file for _, command in commands for file in _scripts(command, home)}
    scripts = tuple((file, _digest(home / file)) for file in sorted(named))
    return RunTerms(home, tuple(commands), scripts, tuple(sorted(files)))


def place_terms(places: Mapping[str, str], folder: Path) -> PlaceTerms:
    """Where the study in a folder keeps its ledger beyond it, by the keys that say so."""
    return PlaceTerms(folder.resolve(), tuple(sorted((k, v) for k, v in places.items() if v)))


def name_of(*terms: Terms) -> str:
    """What an agreement is known by: SHA-256 over all of it, 64 hex digits."""
    return hashlib.sha256("\n".join(each.text for each in terms).encode()).hexdigest()


def is_agreed(terms: Terms) -> bool:
    """Whether the person has agreed to exactly this."""
    try:
        kept = (agreements(terms.folder) / name_of(terms)).read_text(encoding="utf-8")
    except (OSError, ValueError):
        return False
    return kept == terms.text


def agree(terms: Terms) -> None:
    """Keep that the person has agreed.

    Raises:
        LedgerUnwritable: the state folder cannot be written.
    """
    folder = agreements(terms.folder)
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        (folder / name_of(terms)).write_text(terms.text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise LedgerUnwritable(f"{folder}: cannot be written ({error.strerror})") from None


def agreements(study: Path) -> Path:
    """The folder that holds them, in the person's state folder.

    Raises:
        LedgerUnwritable: it lies inside the study's folder.
    """
    home = _state_home().resolve() / "agreed"
    if home.is_relative_to(study):
        raise LedgerUnwritable(
            f"{home}: agreements cannot lie inside the study {study}; set PLANNER_STATE to another"
            " folder"
        )
    return home


def _text(folder: Path, told: Mapping[str, Any]) -> str:
    return json.dumps({"folder": str(folder), **told}, indent=1, ensure_ascii=True)


def _state_home() -> Path:
    if given := os.environ.get("PLANNER_STATE"):
        return Path(given)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData/Local") / "planner"
    return Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local/state") / "planner"


def _scripts(command: Command, home: Path) -> set[str]:
    """The files of the study's folder that a command runs, as far as its words tell."""
    words = command.words[0].split() if command.shell else command.words
    found = set()
    for place, word in enumerate(words):
        path = home / word
        runs = (place == 0 and not command.shell) or path.suffix.lower() in _SCRIPTS
        if runs and "\0" not in word and path.is_file() and path.resolve().is_relative_to(home):
            found.add(str(path.resolve().relative_to(home)))
    return found


def _digest(path: Path) -> str:
    try:
        if path.stat().st_size > _LARGEST_SCRIPT:
            return f"{path.stat().st_size} bytes"
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return "unreadable"
