"""A connection to the server of one study, through SQLAlchemy Core, made when it is first used."""

import weakref
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from functools import cached_property
from typing import TypeVar

import psycopg  # noqa: F401  # the driver; named, so that a missing one is told at once
import sqlalchemy as sql
from sqlalchemy.exc import DBAPIError, OperationalError, ProgrammingError, SQLAlchemyError

from planner.store.address import Address
from planner.store.lost import Refused, Unreachable
from planner.store.table import LINES, NAME, Statements, make

T = TypeVar("T")
_WAIT_MS = 5000
"""How long the server waits for a row that another writer holds."""
_CONNECT = {
    "connect_timeout": 5,
    "keepalives_idle": 5,
    "keepalives_interval": 2,
    "keepalives_count": 3,
    "tcp_user_timeout": 10_000,
    # What was confirmed is on the server's disk, whatever its own default is.
    "options": f"-c lock_timeout={_WAIT_MS} -c statement_timeout={12 * _WAIT_MS}"
    " -c synchronous_commit=on",
}
"""A network that swallows everything is noticed within about 10 s (libpq's parameters)."""
_BUSY = {"55P03", "57014", "40P01"}
"""Lock not available, statement cancelled, deadlock (PostgreSQL's appendix A)."""
_NO_TABLE = "42P01"
"""Undefined table: that of the ledgers, which whoever comes first makes."""
_GONE = ("08", "57P")
"""Classes of connection exceptions, and of shutdown by an operator."""


class Connection:
    """Rows of one study."""

    def __init__(self, address: Address) -> None:
        """Nothing is connected yet."""
        self._address = address
        self._say = Statements(address.study)

    def rows(self, after: int) -> list[tuple[int, bytes]]:
        """Lines with a number above `after`, with their numbers, in order."""

        def ask(link: sql.Connection) -> list[tuple[int, bytes]]:
            found = link.execute(self._say.rows, {"after": after})
            return [(int(number), bytes(line)) for number, line in found]

        return self._do(ask, alone=True)

    def age_s(self, number: int) -> float | None:
        """Seconds since a line was written, by the server's clock alone; None: no such line."""
        told = {"number": number}
        age = self._do(lambda link: link.execute(self._say.age, told).scalar(), alone=True)
        return None if age is None else float(age)

    def insert(self, number: int, line: bytes, chain: str) -> bytes | None:
        """Put a line after line `number - 1`, which has to end with `chain`.

        What stands at `number` then: the line itself, whether put now or before, or another's;
        None where the line before is not there, or is another one.
        """
        put = self._say.put_first if number == 1 else self._say.put_next
        told = {"number": number, "line": line}
        if number > 1:
            told |= {"before": number - 1, "chain": chain.encode()}

        def take(link: sql.Connection) -> bytes | None:
            if link.execute(put, told).all():
                return line
            found = link.execute(self._say.rows, {"after": number - 1}).first()
            return bytes(found[1]) if found is not None and found[0] == number else None

        return self._do(take, alone=True)

    def insert_all(self, lines: Sequence[bytes]) -> bool:
        """Put all lines of a new study; False if there is one of that name, unless it is this."""
        study = self._address.study
        rows = [{"study": study, "number": n, "line": line} for n, line in enumerate(lines, 1)]

        def put(link: sql.Connection) -> bool:
            if there := self._locked(link):  # a lost connection may have hidden that they stand
                return there == list(lines)
            link.execute(sql.insert(LINES), rows)
            return True

        return self._do(put)

    def rename(self, keep: Callable[[list[bytes]], None], renamed: str) -> None:
        """Give all lines to `keep`, then rename the study; no writer comes between."""

        def move(link: sql.Connection) -> None:
            keep(self._locked(link))
            link.execute(sql.update(LINES).where(self._say.mine).values(study=renamed))

        self._do(move)

    def _locked(self, link: sql.Connection) -> list[bytes]:
        """All lines of the study, with the table held against writers until the end."""
        link.exec_driver_sql(f"LOCK TABLE {NAME} IN SHARE ROW EXCLUSIVE MODE")
        return [bytes(line) for _, line in link.execute(self._say.rows, {"after": 0})]

    def _do(self, call: Callable[[sql.Connection], T], alone: bool = False) -> T:
        """Run `call` in one transaction; `alone`: each of its statements in one of its own."""
        try:
            return self._run(call, self._each.connect if alone else self._engine.begin)
        except DBAPIError as error:
            code = getattr(error.orig, "sqlstate", None) or ""
            why = self._plain(str(error.orig))
            gone = error.connection_invalidated or code.startswith(_GONE)
            if gone or (isinstance(error, OperationalError) and not code):
                raise Unreachable(why) from None
            raise Refused(why, code in _BUSY) from None
        except SQLAlchemyError as error:
            raise Refused(self._plain(str(error)), busy=False) from None

    def _run(
        self,
        call: Callable[[sql.Connection], T],
        link_made: Callable[[], AbstractContextManager[sql.Connection]],
    ) -> T:
        """Run it; where there is no table yet, make that and run it again."""
        try:
            with link_made() as link:
                return call(link)
        except ProgrammingError as error:
            if getattr(error.orig, "sqlstate", None) != _NO_TABLE:
                raise
        with self._engine.begin() as link:
            make(link)
        with link_made() as link:
            return call(link)

    @cached_property
    def _engine(self) -> sql.Engine:
        url = sql.make_url(self._address.url)
        engine = sql.create_engine(
            url,
            pool_size=1,
            max_overflow=0,
            connect_args={name: of for name, of in _CONNECT.items() if name not in url.query},
        )
        weakref.finalize(self, engine.dispose)
        return engine

    @cached_property
    def _each(self) -> sql.Engine:
        return self._engine.execution_options(isolation_level="AUTOCOMMIT")

    def _plain(self, why: str) -> str:
        """The first line of a driver's words, without the password."""
        first = why.strip().partition("\n")[0]
        return first.replace(self._address.password, "***") if self._address.password else first
