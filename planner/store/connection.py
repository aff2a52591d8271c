"""The one table of a server, through SQLAlchemy Core, and what can go wrong on the way."""

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

from planner.errors import InputError
from planner.store.address import Address

if TYPE_CHECKING:
    from sqlalchemy import Connection as Link
    from sqlalchemy import Engine, Table

T = TypeVar("T")
TABLE = "planner_lines"
_WAIT_MS = 5000
"""How long the server waits for a row that another writer holds."""
_BUSY = {"55P03", "57014", "40P01"}
"""Lock not available, statement cancelled, deadlock (PostgreSQL's appendix A)."""
_FINAL = ("password authentication failed", "does not exist", "no pg_hba.conf entry")


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
        """Nothing is connected yet."""
        self._address = address

    def rows(self, after: int) -> tuple[list[tuple[int, bytes, float]], float]:
        """Lines with a number above `after`: number, bytes, when written; and the time there."""
        from sqlalchemy import func, select

        table = self._table
        written = func.extract("epoch", table.c.written)
        wanted = select(table.c.number, table.c.line, written).where(
            table.c.study == self._address.study, table.c.number > after
        )
        clock = select(func.extract("epoch", func.clock_timestamp()))

        def ask(link: "Link") -> tuple[list[tuple[int, bytes, float]], float]:
            found = link.execute(wanted.order_by(table.c.number)).all()
            now = float(link.execute(clock).scalar_one())
            return [(int(n), bytes(line), float(at)) for n, line, at in found], now

        return self._do(ask)

    def insert(self, number: int, line: bytes) -> bool:
        """Put a line at its number; False if another stands there. Ours may stand there already."""
        from sqlalchemy import select

        table, study = self._table, self._address.study
        mine = table.c.study == study, table.c.number == number

        def put(link: "Link") -> bool:
            from sqlalchemy.dialects.postgresql import insert

            row = insert(table).values(study=study, number=number, line=line)
            if link.execute(row.on_conflict_do_nothing()).rowcount:
                return True
            return bytes(link.execute(select(table.c.line).where(*mine)).scalar_one()) == line

        return self._do(put)

    def insert_all(self, lines: Sequence[tuple[int, bytes]]) -> bool:
        """Put all lines of a new study; False if there is one of that name, unless it is this."""
        from sqlalchemy import insert, select

        table, study = self._table, self._address.study

        def put(link: "Link") -> bool:
            self._lock(link)
            there = link.execute(
                select(table.c.number, table.c.line)
                .where(table.c.study == study)
                .order_by(table.c.number)
            ).all()
            if there:  # a lost connection may have hidden that they were taken
                return [(n, bytes(line)) for n, line in there] == list(lines)
            rows = [{"study": study, "number": n, "line": line} for n, line in lines]
            link.execute(insert(table), rows)
            return True

        return self._do(put)

    def rename(self, keep: Callable[[list[bytes]], None], renamed: str) -> None:
        """Give all lines to `keep`, then rename the study, in one transaction."""
        from sqlalchemy import select, update

        table, study = self._table, self._address.study

        def move(link: "Link") -> None:
            self._lock(link)
            mine = table.c.study == study
            found = link.execute(select(table.c.line).where(mine).order_by(table.c.number))
            keep([bytes(line) + b"\n" for (line,) in found])
            link.execute(update(table).where(mine).values(study=renamed))

        self._do(move)

    def _lock(self, link: "Link") -> None:
        from sqlalchemy import text

        link.execute(text(f"LOCK TABLE {TABLE} IN SHARE ROW EXCLUSIVE MODE"))

    def _do(self, call: Callable[["Link"], T]) -> T:
        """Run `call` in a transaction of its own."""
        from sqlalchemy.exc import DBAPIError, OperationalError

        try:
            with self._engine.begin() as link:
                return call(link)
        except DBAPIError as error:
            code = getattr(error.orig, "sqlstate", None) or ""
            why = self._without_password(str(error.orig).strip().partition("\n")[0])
            gone = error.connection_invalidated or code.startswith(("08", "57P"))
            if gone or (isinstance(error, OperationalError) and not code):
                raise Unreachable(why) from None
            raise Refused(why, code in _BUSY) from None

    @cached_property
    def _engine(self) -> "Engine":
        from sqlalchemy import create_engine

        options = f"-c lock_timeout={_WAIT_MS} -c statement_timeout={12 * _WAIT_MS}"
        try:
            return create_engine(
                self._address.url,
                pool_size=1,
                max_overflow=0,
                connect_args={"connect_timeout": 5, "options": options},
            )
        except ModuleNotFoundError:
            raise InputError(
                f"store = {self._address}: needs a driver: pip install 'bench-planner[server]'"
            ) from None

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
        self._make(table)
        return table

    def _make(self, table: "Table") -> None:
        """Make the table where it is not there yet; two benches may come at once."""
        from sqlalchemy import inspect
        from sqlalchemy.exc import ProgrammingError

        def make(link: "Link") -> Any:
            if inspect(link).has_table(TABLE):
                return
            # Of two that come at once the second waits here, and then finds it made.
            link.exec_driver_sql("SELECT pg_advisory_xact_lock(7261518)")
            try:
                table.create(link, checkfirst=True)
            except ProgrammingError as error:
                why = str(error.orig).partition("\n")[0]
                raise Refused(f"table {TABLE} cannot be made ({why})", busy=False) from None

        self._do(make)

    def _without_password(self, text: str) -> str:
        from urllib.parse import unquote, urlsplit

        secret = urlsplit(self._address.url).password
        for word in {secret, unquote(secret)} if secret else ():
            text = text.replace(word, "***")
        return text
