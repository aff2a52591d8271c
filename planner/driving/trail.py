"""How far a drive has come, on disk, for whoever starts after a reset.

One small file in the study's folder: written before values are set, when the workload starts, and
about once a second while it runs. So the next start knows which run was under way, and a run that
a person was given by `planner next` is never taken for one.
"""

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from math import isfinite
from pathlib import Path
from typing import Any

from planner.errors import LedgerBusy, LedgerUnwritable
from planner.store import StudyFolder, replace_synced

_LONGEST = 10_000


@dataclass(frozen=True, slots=True)
class Begun:
    """A run that was begun."""

    run: int
    started: float = 0.0
    """When its workload was started, by the wall clock in s since 1970; 0: not yet."""
    alive_s: float = 0.0
    """The last sign of life, in s from there."""


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A drive that has not come to its end."""

    boot_mark: str
    """The boot of the planning machine in which it was started."""
    token: str = ""
    """Names it in the environment of all that it started."""
    downs: int = 0
    """How often in a row the machine went down, or the drive was cut off, in a run."""
    begun: Begun | None = None
    """None: between two runs."""
    whole: bool = True
    """Whether the file could be read as it was written."""


class Trail:
    """The file that says so."""

    def __init__(self, folder: Path) -> None:
        """`folder`: the study's. Nothing is read or written yet."""
        self._path = folder / "drive.json"

    @contextmanager
    def held(self) -> Iterator[None]:
        """Keep every other drive of the study on this machine out.

        Raises:
            LedgerBusy: there is one.
            LedgerUnwritable: the disk refuses the lock's file.
        """
        import fcntl  # not there on Windows, where nothing is driven

        path = self._path.with_suffix(".lock")
        try:
            file = path.open("a")
        except OSError as error:
            raise LedgerUnwritable(
                f"{path}: cannot be made ({error.strerror}), so nothing is run"
            ) from None
        with file:
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                raise LedgerBusy("another planner drives this study already") from None
            yield

    def read(self) -> UnderWay | None:
        """What an earlier drive left; None: it came to its end.

        A spoilt file is what a power cut may leave, so it means that a run was under way.

        Raises:
            InputError: a file of the folder is another in disguise.
        """
        StudyFolder(self._path.parent).refuse_traps()
        try:
            with self._path.open("rb") as file:
                return _read(json.loads(file.read(_LONGEST)))
        except FileNotFoundError:
            return None
        except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return UnderWay(boot_mark="", whole=False)

    def run_at_work(self) -> int | None:
        """The run that a drive has under way at this moment; None: no drive does.

        Raises:
            InputError: a file of the folder is another in disguise.
        """
        left = self.read()
        if left is None or left.begun is None:
            return None
        try:
            with self.held():
                return None
        except LedgerBusy:
            return left.begun.run
        except LedgerUnwritable:
            return None

    def write(self, told: UnderWay) -> None:
        """Have it on the disk.

        Raises:
            LedgerUnwritable: the disk refuses; nothing may be run then.
        """
        try:
            replace_synced(self._path, json.dumps(asdict(told), allow_nan=False).encode(), 0o600)
        except OSError as error:
            raise LedgerUnwritable(
                f"{self._path}: cannot be written ({error.strerror}), so nothing is run"
            ) from None

    def clear(self) -> None:
        """The drive has come to its end."""
        with suppress(OSError):
            self._path.unlink(missing_ok=True)


def _read(told: Mapping[str, Any]) -> UnderWay:
    begun = told["begun"]
    return UnderWay(
        boot_mark=str(told["boot_mark"]),
        token=str(told["token"]),
        downs=int(told["downs"]),
        begun=None
        if begun is None
        else Begun(int(begun["run"]), _seconds(begun["started"]), _seconds(begun["alive_s"])),
    )


def _seconds(value: Any) -> float:
    if not isfinite(value) or value < 0:
        raise ValueError(value)
    return float(value)
