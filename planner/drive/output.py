"""What a command prints, kept within bounds however much it is, and searched line by line."""

import re
from collections.abc import Mapping
from threading import Thread
from typing import IO

KEPT = 256 * 1024
"""Bytes kept of the beginning, and as many of the end."""
LONGEST_LINE = 4096
"""Bytes of a line that are searched."""
_CHUNK = 64 * 1024


class Output:
    """Reads a pipe to its end in a thread of its own."""

    def __init__(self, pipe: IO[bytes], patterns: Mapping[str, str]) -> None:
        """`patterns`: regular expressions by name; the last match of each is kept."""
        self.size = 0
        """Bytes that were printed."""
        self.found: dict[str, str] = {}
        """By pattern: the first group of its last match, or all of it."""
        self._patterns = {name: re.compile(pattern) for name, pattern in patterns.items()}
        self._head = bytearray()
        self._tail = bytearray()
        self._rest = b""
        self._pipe = pipe
        self._thread = Thread(target=self._read, daemon=True)
        self._thread.start()

    def finish(self, seconds: float) -> None:
        """Wait for the rest; a process that outlives its parent may hold the pipe open."""
        self._thread.join(seconds)

    def text(self) -> str:
        """What was printed; where that was too much, its beginning and its end."""
        head, tail = bytes(self._head), bytes(self._tail)
        left_out = self.size - len(head) - len(tail)
        between = f"\n[... {left_out} bytes left out ...]\n".encode() if left_out > 0 else b""
        return (head + between + tail).decode("utf-8", "replace")

    def last_line(self) -> str:
        """The last line that is not blank, as far as it is worth showing."""
        lines = (line.strip() for line in reversed(self.text().splitlines()))
        return next((line for line in lines if line), "")[:200]

    def _read(self) -> None:
        try:
            while chunk := self._pipe.read1(_CHUNK):  # type: ignore[attr-defined]
                self._take(chunk)
            self._search(self._rest)
        except (OSError, ValueError):
            pass  # it was closed under the reader
        finally:
            self._pipe.close()

    def _take(self, chunk: bytes) -> None:
        self.size += len(chunk)
        room = KEPT - len(self._head)
        self._head += chunk[:room]
        self._tail += chunk[max(room, 0) :]
        if len(self._tail) > KEPT:
            del self._tail[:-KEPT]
        if self._patterns:
            *lines, rest = (self._rest + chunk).split(b"\n")
            self._rest = rest[-LONGEST_LINE:]
            for line in lines:
                self._search(line)

    def _search(self, line: bytes) -> None:
        text = line[:LONGEST_LINE].decode("utf-8", "replace")
        for name, pattern in self._patterns.items():
            if match := pattern.search(text):
                self.found[name] = match[1] if pattern.groups and match[1] else match[0]
