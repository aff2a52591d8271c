"""Who may come in: the checks before every request, and what every answer forbids a browser.

A page on a loopback address is in reach of every site that the same browser shows. So a foreign
name in the Host header is refused (a name that a stranger points at this address), a form that
another site sends is refused (RFC 6454, Origin), and nothing is drawn inside another site.
"""

import hmac
from dataclasses import dataclass
from typing import Final

from flask import Flask, Response, abort, g, request

LARGEST: Final = 64 * 1024
"""Bytes that a request's body may have."""
_METHODS = ("GET", "POST")
_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none';"
        " object-src 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


@dataclass(frozen=True, slots=True)
class Door:
    """Where the page is served, and the key that is asked for."""

    address: str
    """An IP address of this machine."""
    port: int
    key: str = ""
    """What a link must carry; empty: nothing, for a loopback address only."""

    @property
    def link(self) -> str:
        """The page's address."""
        return (
            f"http://{self._named(self.address)}:{self.port}/{f'{self.key}/' if self.key else ''}"
        )

    @property
    def hosts(self) -> frozenset[str]:
        """The Host headers that mean this page, in lower case."""
        names = {self._named(self.address)}
        if not self.key:
            names |= {"localhost", "127.0.0.1", "[::1]"}
        bare = names if self.port == 80 else set()
        return frozenset({f"{name}:{self.port}" for name in names} | bare)

    @staticmethod
    def _named(address: str) -> str:
        return f"[{address}]" if ":" in address else address


def guard(app: Flask, door: Door) -> None:
    """Put the door before every route of the page."""
    app.config.update(MAX_CONTENT_LENGTH=LARGEST, MAX_FORM_MEMORY_SIZE=LARGEST, MAX_FORM_PARTS=100)

    @app.url_value_preprocessor
    def take_key(endpoint: str | None, values: dict[str, str] | None) -> None:
        g.key = values.pop("key", "") if values else ""

    @app.before_request
    def check() -> None:
        _check(door)

    @app.after_request
    def forbid(response: Response) -> Response:
        response.headers.update(_HEADERS)
        return response


def _check(door: Door) -> None:
    """Ends the request where it may not come in."""
    if request.method not in _METHODS:
        abort(405, "Only GET and POST are answered here.")
    host = request.headers.get("Host", "").lower()
    if host not in door.hosts:
        abort(421, f"This page is at {door.address}, port {door.port}, and has no other name.")
    if not hmac.compare_digest(g.key.encode(), door.key.encode()):
        abort(403, "The link lacks the key that `planner serve` printed, or has an old one.")
    if request.method == "POST" and request.content_length is None:
        abort(411, "A form says how long it is.")  # cut at the limit it would be half recorded
    if not _from_here(host):
        abort(403, "This came from another site's page, and was refused.")


def _from_here(host: str) -> bool:
    """Whether the request comes from this page, or was made by a person and changes nothing."""
    site = request.headers.get("Sec-Fetch-Site", "")
    if request.method == "GET":
        followed = request.headers.get("Sec-Fetch-Mode") == "navigate"
        return followed or site in ("", "none", "same-origin")
    origin = request.headers.get("Origin")
    return site == "same-origin" if origin is None else origin.lower() == f"http://{host}"
