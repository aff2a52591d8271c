"""Serves the page from this machine until it is stopped."""

import ipaddress
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

from werkzeug.serving import WSGIRequestHandler, make_server

from planner.errors import InputError
from planner.page.app import page_app
from planner.page.desk import Desk
from planner.page.door import Door
from planner.page.key import kept_key


class _Handler(WSGIRequestHandler):
    """Keeps no log, in which keys would stand; drops who says nothing for long."""

    timeout = 20

    def log_request(self, *args: Any) -> None:
        pass

    def version_string(self) -> str:
        return "planner"


def checked_address(text: str) -> str:
    """An IP address at which a page may stand.

    Raises:
        InputError: no address of one machine.
    """
    try:
        address = ipaddress.ip_address("127.0.0.1" if text == "localhost" else text)
    except ValueError:
        address = None
    if address is None or address.is_unspecified or address.is_multicast:
        raise InputError(
            f"--address {text!r}: expected one IP address of this machine, as 192.168.1.20"
        )
    return str(address)


def serve(desk: Desk, folder: Path, address: str, port: int, say: Callable[[Door], None]) -> None:
    """Serve until Ctrl-C; `say` is told where, once it can be reached.

    `folder`: where the study keeps its key.

    Raises:
        InputError: the address is not this machine's, or the port is taken.
    """
    with _listening(address, port) as listening:
        key = "" if ipaddress.ip_address(address).is_loopback else kept_key(folder)
        door = Door(address, listening.getsockname()[1], key)
        server = make_server(
            address,
            door.port,
            page_app(desk, door),
            threaded=True,
            request_handler=_Handler,
            fd=listening.fileno(),
        )
    say(door)
    try:
        server.serve_forever()
    finally:
        server.server_close()


def _listening(address: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        return socket.create_server((address, port), family=family)
    except (OSError, OverflowError) as error:
        raise InputError(
            f"--address {address} --port {port}: {error}; expected an address of this machine and"
            " a port that is free"
        ) from None
