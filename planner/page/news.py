"""Tells a page at once that there is something new, as server-sent events (HTML, section 9.2)."""

from collections.abc import Iterator
from threading import BoundedSemaphore
from typing import Final

from planner.page.desk import Desk

MOST: Final = 24
"""Pages that are told at once; a thread each."""
_LOOKS_S: Final = 0.5
"""How often another program's writing is looked for."""
_SILENT: Final = 20
"""Looks after which a line is sent all the same, so that a page that is gone is noticed."""


class News:
    """The pages that listen."""

    def __init__(self, desk: Desk) -> None:
        """Nobody listens yet."""
        self._desk = desk
        self._free = BoundedSemaphore(MOST)

    def listen(self) -> Iterator[str] | None:
        """The mark of the page, now and whenever it changes; None where too many listen."""
        if not self._free.acquire(blocking=False):
            return None
        return self._told()

    def _told(self) -> Iterator[str]:
        try:
            said, silent = "", 0
            while True:
                mark = self._desk.mark()
                if mark != said:
                    said, silent = mark, 0
                    yield f"data: {mark}\n\n"
                elif silent >= _SILENT:
                    silent = 0
                    yield ": still here\n\n"
                silent += 1
                self._desk.rest(_LOOKS_S)
        finally:
            self._free.release()
