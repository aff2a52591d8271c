"""The one table of a server, through SQLAlchemy Core, and what can go wrong on the way."""

import weakref
from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from planner.errors import InputError
from planner.store.address import Address

if TYPE_CHECKING:
    from sqlalchemy import Connection as Link
    from sqlalchemy import Engine, Table

T = TypeVar("T")
Row = tuple[int, bytes, float]
"""Number of a line, its bytes without the line feed, when it was written (s, server's clock)."""
TABLE = "planner_lines"
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
_GONE = ("08", "57P")
"""Classes of connection exceptions, and of shutdown by an operator."""
_FINAL = ("password", "does not exist", "no pg_hba.conf entry", "not translate host name")


class Unreachable(Exception):
    """The connection was lost, or could not be made."""

    def __init__(self, why: str) -> None:
        """`why`: for people, without a password."""
        super().__init__(why)
        self.final = any(words in why for words in _FINAL)
        """Whether trying again is of no use."""


class Refused(Exception):
    """The server refused."""

    def __init__(self, why: str, busy: bool) -> None:
        """`busy`: because another writer is in the way."""
        super().__init__(why)
        self.busy = busy


class Connection:
    """Rows of one study."""

    def __init__(self, address: Address) -> None:
        """Nothing is connected yet.

        Raises:
            InputError: the driver is not installed.
        """
        try:
            import psycopg  # noqa: F401  # named here, so that a missing one is told at once
            import sqlalchemy  # noqa: F401
        except ImportError:
            raise InputError(
                f"store = {address}: needs a driver: pip install 'bench-planner[server]'"
            ) from None
        self._address = address

    def rows(self, after: int) -> tuple[list[Row], float]:
        """Lines with a number above `after`, and the time there (s)."""
        from sqlalchemy import func, select

        table = self._table
        clock = func.extract("epoch", func.clock_timestamp())
        wanted = (
            select(table.c.number, table.c.line, func.extract("epoch", table.c.written))
            .where(table.c.study == self._address.study, table.c.number > after)
            .order_by(table.c.number)
        )

        def ask(link: "Link") -> tuple[list[Row], float]:
            found = link.execute(wanted).all()
            now = float(link.execute(select(clock)).scalar_one())
            return [(int(n), bytes(line), float(at)) for n, line, at in found], now

        return self._do(ask)

    def insert(self, number: int, line: bytes, chain: str) -> bytes | None:
        """Put a line after line `number - 1`, which has to end with `chain`.

        What stands at `number` then: the line itself, whether put now or before, or another's;
        None where the line before is not there, or is another one.
        """
        from sqlalchemy import exists, func, literal, select
        from sqlalchemy.dialects.postgresql import insert

        table, study = self._table, self._address.study
        before = table.alias()
        told = func.substr(before.c.line, func.octet_length(before.c.line) - 65, 64)
        follows = exists().where(
            before.c.study == study, before.c.number == number - 1, told == chain.encode()
        )
        row = select(literal(study), literal(number), literal(line))
        put = insert(table).from_select(
            ["study", "number", "line"], row.where(follows) if number > 1 else row
        )
        there = select(table.c.line).where(table.c.study == study, table.c.number == number)

        def take(link: "Link") -> bytes | None:
            if link.execute(put.on_conflict_do_nothing().returning(table.c.number)).all():
                return line
            found = link.execute(there).scalar_one_or_none()
            return None if found is None else bytes(found)

        return self._do(take)

    def insert_all(self, lines: Sequence[bytes]) -> bool:
        """Put all lines of a new study; False if there is one of that name, unless it is this."""
        from sqlalchemy import insert

        table, study = self._table, self._address.study
        rows = [{"study": study, "number": n, "line": line} for n, line in enumerate(lines, 1)]

        def put(link: "Link") -> bool:
            if there := self._locked(link):  # a lost connection may have hidden that they stand
                return there == list(lines)
            link.execute(insert(table), rows)
            return True

        return self._do(put)

    def rename(self, keep: Callable[[list[bytes]], None], renamed: str) -> None:
        """Give all lines to `keep`, then rename the study; no writer comes between."""
        from sqlalchemy import update

        table, study = self._table, self._address.study

        def move(link: "Link") -> None:
            keep(self._locked(link))
            link.execute(update(table).where(table.c.study == study).values(study=renamed))

        self._do(move)

    def _locked(self, link: "Link") -> list[bytes]:
        """All lines of the study, with the table held against writers until the end."""
        from sqlalchemy import select

        table = self._table
        link.exec_driver_sql(f"LOCK TABLE {TABLE} IN SHARE ROW EXCLUSIVE MODE")
        mine = select(table.c.line).where(table.c.study == self._address.study)
        return [bytes(line) for (line,) in link.execute(mine.order_by(table.c.number))]

    def _do(self, call: Callable[["Link"], T]) -> T:
        """Run `call` in a transaction of its own."""
        from sqlalchemy.exc import DBAPIError, OperationalError, SQLAlchemyError

        try:
            with self._engine.begin() as link:
                return call(link)
        except DBAPIError as error:
            code = getattr(error.orig, "sqlstate", None) or ""
            why = self._plain(str(error.orig))
            gone = error.connection_invalidated or code.startswith(_GONE)
            if gone or (isinstance(error, OperationalError) and not code):
                raise Unreachable(why) from None
            raise Refused(why, code in _BUSY) from None
        except SQLAlchemyError as error:
            raise Refused(self._plain(str(error)), busy=False) from None

    @cached_property
    def _engine(self) -> "Engine":
        from sqlalchemy import create_engine, make_url

        url = make_url(self._address.url)
        engine = create_engine(
            url,
            pool_size=1,
            max_overflow=0,
            connect_args={name: of for name, of in _CONNECT.items() if name not in url.query},
        )
        weakref.finalize(self, engine.dispose)
        return engine

    @cached_property
    def _table(self) -> "Table":
        import sqlalchemy as sql

        table = sql.Table(
            TABLE,
            sql.MetaData(),
            sql.Column("study", sql.Text, primary_key=True),
            sql.Column("number", sql.BigInteger, primary_key=True, autoincrement=False),
            sql.Column("line", sql.LargeBinary, nullable=False),
            sql.Column(
                "written",
                sql.DateTime(timezone=True),
                server_default=sql.func.clock_timestamp(),
                nullable=False,
            ),
        )
        self._do(lambda link: _make(table, link))
        return table

    def _plain(self, why: str) -> str:
        """The first line of a driver's words, without the password."""
        first = why.strip().partition("\n")[0]
        return first.replace(self._address.password, "***") if self._address.password else first


def _make(table: "Table", link: "Link") -> None:
    """Make the table where it is not there yet; two benches may come at once."""
    from sqlalchemy import inspect

    if inspect(link).has_table(TABLE):
        return
    # Of two that come at once the second waits here, and then finds it made.
    link.exec_driver_sql("SELECT pg_advisory_xact_lock(7261518)")
    table.create(link, checkfirst=True)
