"""Where a study stands on a server: `postgresql://user@host/database#study`."""

import re
from dataclasses import dataclass, field
from urllib.parse import SplitResult, parse_qsl, unquote, urlsplit, urlunsplit

from planner.errors import InputError

EXAMPLE = "postgresql://user@host/database#study"
_SCHEMES = ("postgresql", "postgres")
_LONGEST = 1000
_OPTIONS = frozenset({"sslmode", "sslrootcert", "sslcert", "sslkey", "connect_timeout"})
_STUDY = re.compile(r"\w[\w .+-]{0,99}")


@dataclass(frozen=True, slots=True)
class Address:
    """A server's database and the name of a study in it."""

    url: str = field(repr=False)
    """For the driver, password and all."""
    study: str
    shown: str
    """For people and files: without a password, and a valid address all the same."""
    password: str = field(default="", repr=False)

    def __str__(self) -> str:
        """Never shows a password."""
        return self.shown


def is_address(text: object) -> bool:
    """Whether a text names a server, not a folder."""
    return "://" in str(text)


def parse_address(text: str) -> Address:
    """The address that a text gives.

    Raises:
        InputError: not that of a study on a PostgreSQL server; the message hides passwords.
    """
    where = f"store = {masked(text)!r}"
    if len(text) > _LONGEST or not text.isprintable():
        raise InputError(f"{where}: expected at most {_LONGEST} printable characters")
    try:
        parts = urlsplit(text)
        port = f":{parts.port}" if parts.port else ""
    except ValueError:  # its own words may hold a part of the password
        raise InputError(f"{where}: is no address, expected {EXAMPLE}") from None
    _check(parts, where)
    host = f"[{parts.hostname}]" if ":" in (parts.hostname or "") else parts.hostname or ""
    user = f"{parts.username}@" if parts.username else ""
    place, study = f"{user}{host}{port}", unquote(parts.fragment)
    return Address(
        url=urlunsplit(("postgresql+psycopg", parts.netloc, parts.path, parts.query, "")),
        study=study,
        shown=urlunsplit(("postgresql", place, parts.path, parts.query, parts.fragment)),
        password=unquote(parts.password or ""),
    )


def _check(parts: SplitResult, where: str) -> None:
    if parts.scheme not in _SCHEMES:
        raise InputError(f"{where}: expected 'memory', a folder, or {EXAMPLE}")
    if not parts.hostname or not re.fullmatch(r"/[^/]+", parts.path):
        raise InputError(f"{where}: expected a host and a database, as {EXAMPLE}")
    unknown = [name for name, _ in parse_qsl(parts.query, True) if name not in _OPTIONS]
    if unknown:
        raise InputError(f"{where}: of options expected only {', '.join(sorted(_OPTIONS))}")
    if not _STUDY.fullmatch(unquote(parts.fragment)):
        raise InputError(
            f"{where}: expected the study's name after #, of at most 100 letters, digits, blanks"
            f" or . + -, as {EXAMPLE}"
        )


def masked(text: str) -> str:
    """The text without anything that may be a password, however badly it is written."""
    scheme, sign, rest = text.partition("://")
    if not sign:
        return text
    before, at, after = rest.rpartition("@")
    if at:
        user, colon, _ = before.partition(":")
        before = f"{user}:***" if colon else user
    # Only the options that hold no secret are shown; others may be one.
    after = re.sub(r"([?&])(\w+)=[^&#]*", _option, after)
    return f"{scheme}://{before}{at}{after}"


def _option(found: re.Match[str]) -> str:
    return found[0] if found[2] in _OPTIONS else f"{found[1]}{found[2]}=***"
