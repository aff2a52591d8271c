"""What the person who started the drive wants of it now."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType


@dataclass(slots=True)
class Wish:
    """Set from a signal, looked at while commands run."""

    finish: bool = False
    """Finish the run, then restore and end."""
    at_once: bool = False
    """End the run now; it is void."""


@contextmanager
def heeding(wish: Wish) -> Iterator[None]:
    """Ctrl-C once is `finish`, twice `at_once`; so is, at the first, a closed terminal."""

    def interrupted(number: int, frame: FrameType | None) -> None:
        wish.at_once = wish.finish
        wish.finish = True

    def ended(number: int, frame: FrameType | None) -> None:
        wish.finish = wish.at_once = True

    wanted = {signal.SIGINT: interrupted, signal.SIGTERM: ended, signal.SIGHUP: ended}
    before = {number: signal.signal(number, handler) for number, handler in wanted.items()}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
