"""Where a study stands on a server: `postgresql://host/database#study`."""

from dataclasses import dataclass, field
from urllib.parse import parse_qsl, unquote, urlsplit, urlunsplit

from planner.errors import InputError

SCHEMES = ("postgresql", "postgres")
_LONGEST = 1000
_OPTIONS = frozenset({"sslmode", "sslrootcert", "connect_timeout", "application_name", "service"})


@dataclass(frozen=True, slots=True)
class Address:
    """A server's database and the name of a study in it."""

    url: str = field(repr=False)
    """For the driver, password and all."""
    study: str
    shown: str
    """For people: without a password."""
    has_password: bool = False

    def __str__(self) -> str:
        """Never shows a password."""
        return self.shown


def is_address(text: str) -> bool:
    """Whether a text names a server, not a folder."""
    return "://" in text


def parse_address(text: str, default_study: str = "") -> Address:
    """The address that a text gives; `default_study` where it names none.

    Raises:
        InputError: not of a PostgreSQL server, or no study named.
    """
    masked = masked_url(text)
    try:
        parts = urlsplit(text)
        port = parts.port
    except ValueError as error:
        raise InputError(f"store = {masked!r}: not an address ({error})") from None
    if parts.scheme not in SCHEMES or len(text) > _LONGEST or not text.isprintable():
        raise InputError(f"store = {masked!r}: expected postgresql://host/database#study")
    unknown = [name for name, _ in parse_qsl(parts.query) if name not in _OPTIONS]
    if unknown or not parts.path.strip("/"):
        expected = f"a database, and of options only {', '.join(sorted(_OPTIONS))}"
        raise InputError(f"store = {masked!r}: expected {expected}")
    study = unquote(parts.fragment) or default_study
    if not study or len(study) > 60 or not study.isprintable():
        raise InputError(f"store = {masked!r}: expected the study's name after #, as ...#box")
    url = urlunsplit(("postgresql+psycopg", parts.netloc, parts.path, parts.query, ""))
    place = f"{parts.hostname or ''}:{port}" if port else parts.hostname or ""
    user = f"{parts.username}@" if parts.username else ""
    shown = f"postgresql://{user}{place}{parts.path}#{study}"
    return Address(url, study, shown, has_password=parts.password is not None)


def masked_url(text: str) -> str:
    """The text without what may be a password."""
    scheme, sign, rest = text.partition("://")
    before, at, after = rest.rpartition("@")
    if not sign or not at:
        return text
    return f"{scheme}://{before.partition(':')[0]}:***@{after}" if ":" in before else text
