"""How often a command asks the server: each time is a way there and back."""

import re
from collections.abc import Iterator

import pytest
import sqlalchemy as sql

from tests.cli.typed import planner
from tests.postgres import PASSWORD, bare, server_url


@pytest.fixture
def asked() -> Iterator[list[str]]:
    """The first words of all that is said in SQL, through whatever engine."""
    said: list[str] = []

    def listen(link: object, cursor: object, statement: str, *more: object) -> None:
        said.append(re.split(r"\s", statement.strip())[0].upper())

    sql.event.listen(sql.Engine, "before_cursor_execute", listen)
    yield said
    sql.event.remove(sql.Engine, "before_cursor_execute", listen)


@pytest.fixture
def study(tmp_path, monkeypatch: pytest.MonkeyPatch, asked: list[str]) -> str:
    """One on a server, with a run on record and one asked for."""
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    monkeypatch.setenv("PGPASSWORD", PASSWORD)
    for typed in (
        ("new", "box", "--store", bare(server_url())),
        ("record", "pass", "--as-is"),
        ("next",),
    ):
        assert planner(*typed).exit_code == 0
    asked.clear()
    return "box"


@pytest.mark.parametrize(
    "command", ["show", "next", "check", "claim", "export", "sheet --json", "plot"]
)
def test_what_only_reads_asks_once(study: str, asked: list[str], command: str) -> None:
    """`next` too, where a run is pending."""
    done = planner(*command.split())
    assert (done.exit_code, asked) == (0, ["SELECT"]), done.output


@pytest.mark.parametrize(
    "command",
    ["record crash", "amend 1 --note x", "changed firmware", "boot cold", "close", "reopen"],
)
def test_what_writes_reads_before_and_after(study: str, asked: list[str], command: str) -> None:
    """Once each, and writes once; what tells nothing afterwards need not look again."""
    done = planner(*command.split())
    assert done.exit_code == 0, done.output
    assert asked[:2] == ["SELECT", "INSERT"]
    assert asked[2:] in ([], ["SELECT"])


def test_asking_for_a_run_reads_before_and_after(study: str, asked: list[str]) -> None:
    """Where none was pending."""
    planner("record", "crash")
    asked.clear()
    assert planner("next").exit_code == 0
    assert asked == ["SELECT", "INSERT", "SELECT"]
