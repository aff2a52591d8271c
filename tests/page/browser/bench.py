"""`planner serve` in a process of its own, as it is used beside a bench."""

import subprocess
import sys
from pathlib import Path
from typing import Self

from planner.study import Study

ROOT = Path(__file__).resolve().parents[3]
HERE = f"import sys; sys.path.insert(0, {str(ROOT)!r}); "
MAIN = f"{HERE}from planner.cli import main; main()"
SERVING = f"{HERE}import planner.page.desk; planner.page.desk.HASTY_S = 0; {MAIN}"
"""Nothing is dialled in between the runs of a test."""
LONGEST_MS = 60_000
"""After which a test gives up on what it waits for."""


class Bench:
    """A study and the process that serves it; it can go down and come back at the same place."""

    def __init__(self, folder: Path) -> None:
        """Nothing is served before it is entered."""
        self.folder, self.link, self._port = folder, "", "0"
        self._process: subprocess.Popen[str] | None = None

    def __enter__(self) -> Self:
        """Serve."""
        self.up()
        return self

    def __exit__(self, *_: object) -> None:
        """Serve no more."""
        self.down()

    def up(self) -> None:
        """Serve; the second time at the port of the first."""
        words = [sys.executable, "-c", SERVING, "serve", str(self.folder), "--port", self._port]
        self._process = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
        assert self._process.stdout is not None
        self.link = self._process.stdout.readline().strip()
        self._port = self.link.rstrip("/").rpartition(":")[2]

    def down(self) -> None:
        """As when the machine crashes: no farewell."""
        if self._process is not None:
            self._process.kill()
            self._process.communicate()
            self._process = None

    def type(self, *words: str) -> None:
        """A command at the machine itself, in a process of its own."""
        command = [sys.executable, "-c", MAIN, *words, "--study", str(self.folder)]
        subprocess.run(command, check=True, capture_output=True)

    def study(self) -> Study:
        """The study as another window has it."""
        return Study.open(self.folder)
