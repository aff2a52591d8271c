"""What is to be said once a command is done, however it ended."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_LATER: ContextVar[list[Callable[[], None]]] = ContextVar("later")


def say_afterwards(say: Callable[[], None]) -> None:
    """Have `say` called at the end of the command that runs; outside of one, never."""
    _LATER.get([]).append(say)


@contextmanager
def saying_afterwards() -> Iterator[None]:
    """Around one command."""
    later: list[Callable[[], None]] = []
    token = _LATER.set(later)
    try:
        yield
    finally:
        _LATER.reset(token)
        for say in later:
            say()
