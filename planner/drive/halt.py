"""What a person asks for in mid-run: once, to end after it; twice, to end at once."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType


class Halt:
    """How urgently the person wants to stop."""

    def __init__(self) -> None:
        self.asked = False
        """End once the present run is over."""
        self.at_once = False
        """End the present run too; it is void."""

    def ask(self) -> None:
        """Ask once more."""
        self.at_once = self.asked
        self.asked = True

    def insist(self) -> None:
        """End at once."""
        self.asked = self.at_once = True

    @contextmanager
    def on_signals(self) -> Iterator[None]:
        """Let Ctrl-C ask, and a request of the system to end (SIGTERM, SIGHUP) insist."""
        taken = {signal.SIGINT: self._ask, signal.SIGTERM: self._insist}
        if hasattr(signal, "SIGHUP"):
            taken[signal.SIGHUP] = self._insist
        before = {number: signal.signal(number, handler) for number, handler in taken.items()}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def _ask(self, number: int, frame: FrameType | None) -> None:
        self.ask()

    def _insist(self, number: int, frame: FrameType | None) -> None:
        self.insist()
