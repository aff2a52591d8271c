"""How far a drive has come, on disk, for whoever starts after a reset.

One small file, replaced as a whole and synced: before values are applied, when the workload
starts, and about once a second while it runs. So after a reset the next start knows which run
was under way and its last sign of life, and a setting that kills the machine is never run again
by accident: the run was written down as begun before anything was applied.
"""

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass, field, fields, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from planner.drive.order import write_whole_file
from planner.errors import LedgerUnwritable

LARGEST = 1_000_000


class Phase(StrEnum):
    """What a run was at."""

    APPLYING = "applying"
    RUNNING = "running"
    OVER = "over"
    """It ended; what it came to may not be in the ledger yet."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A run that was begun."""

    run: int
    """Its number; 0 for the first run at stock, which nobody asked for."""
    phase: Phase = Phase.APPLYING
    alive_s: float = 0.0
    """The last sign of life, in seconds since the workload began."""
    started: float = 0.0
    """When its workload began, by the wall clock in s since 1970; 0: not yet."""
    outcome: str = ""
    """What it came to, once it is over."""
    facts: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A drive that was not ended."""

    unattended: bool
    token: str
    """Names the processes of this drive."""
    boot_mark: str
    """The boot of the planning machine that it was started or resumed in."""
    resumes: int = 0
    """How often it was taken up without a run since."""
    first: int = 0
    """How many runs were on record when it began."""
    begun: Begun | None = None
    whole: bool = True
    """Whether the file could be read as it was written."""


class Trail:
    """The file that says so."""

    def __init__(self, path: Path) -> None:
        """Nothing is written yet."""
        self._path = path

    def read(self) -> UnderWay | None:
        """What an earlier drive left; None: nothing. A spoilt file means that one was under way."""
        try:
            with self._path.open("rb") as file:
                told = json.loads(file.read(LARGEST))
            begun = told.pop("begun")
            run = None if begun is None else _begun(begun)
            return _checked(UnderWay(**_known(UnderWay, told), begun=run))
        except FileNotFoundError:
            return None
        except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return UnderWay(unattended=True, token="", boot_mark="", whole=False)

    def write(self, told: UnderWay) -> None:
        """Have it on the disk.

        Raises:
            LedgerUnwritable: the disk refuses; nothing may be run then.
        """
        try:
            write_whole_file(self._path, json.dumps(asdict(told), allow_nan=False), synced=True)
        except OSError as error:
            raise LedgerUnwritable(
                f"{self._path}: cannot be written ({error.strerror}), so nothing is run"
            ) from None

    def clear(self) -> None:
        """The drive is over."""
        with suppress(OSError):
            self._path.unlink(missing_ok=True)


def _begun(told: dict[str, Any]) -> Begun:
    begun = Begun(**_known(Begun, told))
    if not isinstance(begun.facts, dict) or isinstance(begun.run, bool):
        raise ValueError("not a run")
    return replace(
        begun,
        run=int(begun.run),
        phase=Phase(begun.phase),
        started=min(max(float(begun.started), 0.0), 1e11),
        alive_s=min(max(float(begun.alive_s), 0.0), 1e6),
        outcome=str(begun.outcome),
    )


def _checked(told: UnderWay) -> UnderWay:
    if not isinstance(told.token, str) or not isinstance(told.boot_mark, str):
        raise ValueError("not a drive")
    return replace(
        told,
        unattended=bool(told.unattended),
        resumes=int(told.resumes),
        first=max(int(told.first), 0),
    )


def _known(kind: type, told: Mapping[str, Any]) -> dict[str, Any]:
    names = {item.name for item in fields(kind)}
    return {name: value for name, value in told.items() if name in names}
