"""A way to a server that is cut at a chosen moment, for exams."""

import select
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field


@dataclass
class Way:
    """Passes bytes on between clients and a server; cuts one connection, once."""

    server: int
    """Port of the server."""
    cut_at: int = 0
    """Cut where the client has spoken for this time, counted from `arm`; 0: never."""
    before: bool = True
    """Cut before the server hears it; else after it has answered, before the client hears that."""
    closed: bool = False
    """No new connection is let in."""
    spoken: int = 0
    cuts: int = 0
    _door: socket.socket = field(default_factory=socket.socket)
    _threads: list[threading.Thread] = field(default_factory=list)
    _ends: list[socket.socket] = field(default_factory=list)

    @property
    def port(self) -> int:
        """Where clients come in."""
        return int(self._door.getsockname()[1])

    def arm(self, cut_at: int, before: bool) -> None:
        """Cut when the client speaks for the `cut_at`-th time from now on."""
        self.spoken, self.cut_at, self.before = 0, cut_at, before

    def open(self) -> None:
        self._door.bind(("127.0.0.1", 0))
        self._door.listen()
        self._start(self._let_in)

    def close(self) -> None:
        for end in (self._door, *self._ends):
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            end.close()
        for thread in self._threads:
            thread.join(10)
            assert not thread.is_alive()

    def _start(self, call, *given) -> None:
        self._threads.append(threading.Thread(target=call, args=given, daemon=True))
        self._threads[-1].start()

    def _let_in(self) -> None:
        with suppress(OSError):
            while True:
                client, _ = self._door.accept()
                if self.closed:
                    client.close()
                    continue
                server = socket.create_connection(("127.0.0.1", self.server))
                self._ends += [client, server]
                self._start(self._pass_on, client, server)

    def _pass_on(self, client: socket.socket, server: socket.socket) -> None:
        """Hears both ends until one is done, or the cut has come."""
        cutting, unheard = False, b""
        with suppress(OSError, ValueError):  # ended, or closed under its feet
            while True:
                for end in select.select([client, server], [], [])[0]:
                    if not (said := end.recv(1 << 20)):
                        raise ConnectionResetError
                    if end is client:
                        self.spoken += 1
                        cutting = cutting or self.spoken == self.cut_at
                        self.cuts += self.spoken == self.cut_at
                        if cutting and self.before:
                            raise ConnectionResetError
                        server.sendall(said)
                    elif not cutting:
                        client.sendall(said)
                    elif (unheard := unheard + said).endswith(_READY):
                        raise ConnectionResetError
        for end in (client, server):
            with suppress(OSError, ValueError):  # ended, or closed under its feet
                end.shutdown(socket.SHUT_RDWR)


_READY = (b"Z\0\0\0\5I", b"Z\0\0\0\5T", b"Z\0\0\0\5E")
"""ReadyForQuery: idle, in a transaction, in a failed one (PostgreSQL, message formats)."""


@contextmanager
def way_to(server: int) -> Iterator[Way]:
    """A way to the server that listens on a port of this machine."""
    way = Way(server)
    way.open()
    try:
        yield way
    finally:
        way.close()
