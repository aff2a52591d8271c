"""The one table of a database that holds ledgers, and what is said to it in SQL.

A row is a line of the ledger's format: the study's name and the line's number are its key.
"""

from functools import cached_property
from typing import Any

import sqlalchemy as sql
from sqlalchemy import bindparam, func, literal, select
from sqlalchemy.dialects.postgresql import insert
from sqlalchemy.sql.dml import ReturningInsert

NAME = "planner_lines"
LINES = sql.Table(
    NAME,
    sql.MetaData(),
    sql.Column("study", sql.Text, primary_key=True),
    sql.Column("number", sql.BigInteger, primary_key=True, autoincrement=False),
    sql.Column("line", sql.LargeBinary, nullable=False),
    sql.Column(
        "written",
        sql.DateTime(timezone=True),
        server_default=func.clock_timestamp(),
        nullable=False,
    ),
)
_AFTER_CHAIN, _CHAIN = len('"}'), 64
"""What ends every line: its chain in hexadecimal digits, a quote, a brace."""


class Statements:
    """What is said about one study; each statement is made once."""

    def __init__(self, study: str) -> None:
        """`study`: its name."""
        self.mine = LINES.c.study == study
        self._study = study

    @cached_property
    def rows(self) -> sql.Select[Any]:
        """Numbers and lines above `after`, in order."""
        wanted = select(LINES.c.number, LINES.c.line)
        above = LINES.c.number > bindparam("after")
        return wanted.where(self.mine, above).order_by(LINES.c.number)

    @cached_property
    def age(self) -> sql.Select[Any]:
        """Seconds since line `number` was written."""
        age = func.extract("epoch", func.clock_timestamp() - LINES.c.written)
        return select(age).where(self.mine, LINES.c.number == bindparam("number"))

    @cached_property
    def put_first(self) -> ReturningInsert[Any]:
        """Puts `line` as line `number`; gives the number, or nothing where that is taken."""
        return self._put()

    @cached_property
    def put_next(self) -> ReturningInsert[Any]:
        """The same, if line `before` is there and ends with `chain`."""
        last = LINES.alias()
        start = func.octet_length(last.c.line) - _AFTER_CHAIN - _CHAIN + 1
        return self._put(
            sql.exists().where(
                last.c.study == self._study,
                last.c.number == bindparam("before"),
                func.substr(last.c.line, start, _CHAIN)
                == bindparam("chain", type_=sql.LargeBinary),
            )
        )

    def _put(self, *when: sql.ColumnElement[bool]) -> ReturningInsert[Any]:
        row = select(
            literal(self._study),
            bindparam("number", type_=LINES.c.number.type),
            bindparam("line", type_=LINES.c.line.type),
        )
        put = insert(LINES).from_select(["study", "number", "line"], row.where(*when))
        return put.on_conflict_do_nothing().returning(LINES.c.number)


def make(link: sql.Connection) -> None:
    """Make the table where it is not there yet; two benches may come at once."""
    if sql.inspect(link).has_table(NAME):
        return
    # Of two that come at once the second waits here, and then finds it made.
    link.exec_driver_sql("SELECT pg_advisory_xact_lock(7261518)")
    LINES.create(link, checkfirst=True)
