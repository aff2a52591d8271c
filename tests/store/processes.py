"""Other processes that use a ledger, for exams: started anew, so it works on every system.

Run as `python -m tests.store.processes JOB PATH [NAME COUNT]`; `started` does that.
"""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from planner.errors import LedgerConflict, LedgerUnwritable
from planner.store.address import is_address, parse_address
from planner.store.disk import locked
from planner.store.file import FileLedger
from planner.store.server import ServerLedger
from tests.store.makers import event

ROOT = Path(__file__).parents[2]


class Child:
    """A process that has told it is ready."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        assert self.line() == "ready"

    def line(self) -> str:
        """The next line that the child tells, waiting for it."""
        return self.process.stdout.readline().rstrip()

    def go(self) -> None:
        """Let the child begin."""
        self.process.stdin.write("go\n")
        self.process.stdin.flush()

    def rest(self) -> str:
        """All that the child told until it ended."""
        return self.process.stdout.read()


@contextmanager
def started(job: str, path: Path | str, *arguments: object) -> Iterator[Child]:
    """A child at `job`, ready to go; ended when the block ends."""
    command = [sys.executable, "-m", __name__, job, str(path), *map(str, arguments)]
    with subprocess.Popen(
        command,
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            yield Child(process)
        finally:
            process.kill()


def tell(text: object) -> None:
    """Say something to the parent at once."""
    print(text, flush=True)


def ready() -> None:
    """Tell the parent and wait for its word."""
    tell("ready")
    sys.stdin.readline()


def write(place: str, name: str = "w", count: str = "1000000") -> None:
    """Append `count` entries, each again until it is first, and tell each that is confirmed."""
    server = is_address(place)
    ledger = ServerLedger(parse_address(place)) if server else FileLedger(Path(place), timeout=60)
    ready()
    for number in range(int(count)):
        token = f"{name}{number}"
        while True:
            try:
                ledger.append(event(ledger.head.seq + 1, token))
                break
            except LedgerConflict:
                continue
        tell(token)


def hold(path: str) -> None:
    """Hold the ledger's lock until the parent says so or ends this process."""
    with locked(Path(path), 5):
        ready()


def fill(path: str) -> None:
    """Append until the system's limit on file sizes is met, and tell how that ended."""
    import resource

    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (5000, most))
    ledger = FileLedger(Path(path))
    ready()
    try:
        while True:
            ledger.append(event(ledger.head.seq + 1))
            tell(ledger.head.seq)
    except LedgerUnwritable as error:
        tell(type(error).__name__)


JOBS: dict[str, Callable[..., None]] = {"write": write, "hold": hold, "fill": fill}

if __name__ == "__main__":
    JOBS[sys.argv[1]](*sys.argv[2:])
