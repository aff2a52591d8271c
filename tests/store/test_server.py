"""A ledger in PostgreSQL: several writers, a connection that is lost, a server that refuses."""

import pytest

from planner.errors import (
    LedgerConflict,
    LedgerDamaged,
    LedgerTooNew,
    LedgerUnwritable,
    StudyMissing,
)
from planner.store.address import parse_address
from planner.store.server import ServerLedger
from tests.postgres import PASSWORD, bare, new_database, port_of, server_url, sql
from tests.store.cutting import Way, way_to
from tests.store.makers import chained, event, events, sealed
from tests.store.processes import started

APPENDS = 3
"""An append is one statement in a transaction of its own, so the client speaks once for it."""


def opened(url: str, timeout: float = 10.0) -> ServerLedger:
    return ServerLedger(parse_address(url), timeout)


def through(way: Way, url: str) -> str:
    """The same address by way of `way`."""
    return url.replace(f":{port_of(url)}/", f":{way.port}/")


def test_of_two_writers_one_is_first() -> None:
    """Who believed another entry to be next is told so; both then see the same."""
    url = server_url()
    left, right = opened(url), opened(url)
    left.append(event(1))
    right.read()
    left.append(event(2, "left"))
    with pytest.raises(LedgerConflict, match="another bench was first"):
        right.append(event(2, "right"))
    right.append(event(3, "right"))
    assert [e.id for e in left.read()] == [e.id for e in opened(url).read()]
    assert [e.id for e in left.read()] == ["e1", "left", "right"]


def test_several_processes_lose_and_double_nothing() -> None:
    """Every confirmed entry of three processes that write at once stands once, in one chain."""
    url, count = server_url(), 20
    with (
        started("write", url, "a", count) as one,
        started("write", url, "b", count) as two,
        started("write", url, "c", count) as three,
    ):
        for child in (one, two, three):
            child.go()
        told = [token for child in (one, two, three) for token in child.rest().split()]
    assert len(told) == 3 * count
    assert sorted(e.id for e in opened(url).read()) == sorted(told)


@pytest.mark.parametrize("before", [True, False], ids=["unheard", "unanswered"])
@pytest.mark.parametrize("cut_at", range(1, APPENDS + 1))
def test_a_connection_lost_in_an_append_is_resolved(cut_at: int, before: bool) -> None:
    """Wherever it is cut, before the server hears or after it has acted, the entry stands once."""
    url = server_url()
    with way_to(port_of(url)) as way:
        ledger = opened(through(way, url))
        ledger.append(event(1))
        way.arm(cut_at, before)
        for entry in events(1 + APPENDS)[1:]:
            ledger.append(entry)
        assert way.cuts == 1
        assert list(ledger.read()) == list(opened(url).read()) == events(1 + APPENDS)


@pytest.mark.parametrize("before", [True, False], ids=["unheard", "unanswered"])
@pytest.mark.parametrize("cut_at", range(1, 6))
def test_a_connection_lost_in_a_move_is_resolved(cut_at: int, before: bool) -> None:
    """Begin, lock, look, write, commit: wherever it is cut, all lines stand once, or moved once."""
    url, lines = server_url(), chained(events(3))
    study, kept = parse_address(url).study, []
    with way_to(port_of(url)) as way:
        ledger = opened(through(way, url))
        ledger.read()
        way.arm(cut_at, before)
        ledger.bring(lines)
        assert opened(url).lines() == lines
        way.arm(cut_at, before)
        ledger.take_away(lambda all_lines: kept.extend(all_lines or []), f"{study} moved")
        assert way.cuts == 2
    assert kept[:3] == lines
    assert opened(url).lines() == []
    assert opened(url.replace(study, f"{study}%20moved")).lines() == lines


def test_a_connection_lost_while_reading_is_made_anew() -> None:
    """A read is simply repeated."""
    url = server_url()
    opened(url).append(event(1))
    with way_to(port_of(url)) as way:
        ledger = opened(through(way, url))
        assert list(ledger.read()) == events(1)
        way.arm(1, True)
        assert list(ledger.read()) == events(1)
        assert way.cuts == 1


def test_a_connection_that_stays_lost_is_told_as_doubt() -> None:
    """If the server cannot be asked again, the message says that the entry may stand."""
    url = server_url()
    with way_to(port_of(url)) as way:
        ledger = opened(through(way, url), timeout=0)
        ledger.append(event(1))
        way.arm(1, False)
        way.closed = True
        with pytest.raises(LedgerUnwritable, match=r"entry 2 stands is unknown") as refused:
            ledger.append(event(2))
        assert PASSWORD not in str(refused.value)
        way.closed = False
        ledger.read()
        assert ledger.head == opened_head(url)


def opened_head(url: str):
    ledger = opened(url)
    ledger.read()
    return ledger.head


def test_a_study_moved_away_is_not_begun_anew_by_a_late_writer() -> None:
    """A bench that had it open is refused, and nothing is written under the old name."""
    url = server_url()
    late = opened(url)
    late.append(event(1))
    opened(url).take_away(lambda lines: None, f"{parse_address(url).study} moved")
    with pytest.raises(LedgerDamaged, match="line 1 is gone"):
        late.append(event(2))
    assert opened(url).lines() == []


def test_a_whole_ledger_is_brought_once() -> None:
    """The same again changes nothing, as after a lost answer; another one is refused."""
    url, lines = server_url(), chained(events(4))
    opened(url).bring(lines)
    opened(url).bring(lines)
    assert opened(url).lines() == lines
    with pytest.raises(StudyMissing, match="holds a study already"):
        opened(url).bring(lines[:3])
    assert list(opened(url).read()) == events(4)


def test_what_fails_while_it_is_taken_away_leaves_it_there() -> None:
    """The study keeps its name if its lines could not be kept elsewhere."""
    url, lines = server_url(), chained(events(2))
    opened(url).bring(lines)

    def full(kept: list[bytes]) -> None:
        raise LedgerUnwritable("disk full")

    with pytest.raises(LedgerUnwritable, match="disk full"):
        opened(url).take_away(full, "elsewhere")
    assert opened(url).lines() == lines


def test_changed_missing_and_newer_lines_are_told() -> None:
    """A row altered in the database, one deleted, one of a newer format: named by line."""
    url = server_url()
    study = parse_address(url).study
    opened(url).bring(chained(events(3)))
    sql(f"UPDATE planner_lines SET line = 'x' WHERE study = '{study}' AND number = 2")
    with pytest.raises(LedgerDamaged, match=r"line 2: .*chain"):
        opened(url).read()
    sql(f"DELETE FROM planner_lines WHERE study = '{study}' AND number = 2")
    with pytest.raises(LedgerDamaged, match="line 2 is missing"):
        opened(url).read()
    other = server_url()
    opened(other).bring([sealed(b'{"format":2,"seq":1') + b"\n"])
    ledger = opened(other)
    for _ in range(2):
        with pytest.raises(LedgerTooNew, match="line 1: written by a newer planner"):
            ledger.read()


def test_the_table_is_made_by_whoever_comes_first() -> None:
    """In an empty database two processes that write at once both succeed."""
    url = server_url(database=new_database())
    with started("write", url, "a", 3) as one, started("write", url, "b", 3) as two:
        one.go()
        two.go()
        assert len(one.rest().split()) == len(two.rest().split()) == 3
    assert len(opened(url).read()) == 6


def test_age_is_told_by_the_server() -> None:
    """Neither bench's clock matters: the row bears the server's time."""
    url = server_url()
    opened(url).append(event(1))
    study = parse_address(url).study
    sql(f"UPDATE planner_lines SET written = written - interval '1 hour' WHERE study = '{study}'")
    ledger = opened(url)
    ledger.read()
    assert ledger.age_s(1) == pytest.approx(3600, abs=300)
    assert ledger.age_s(2) is None


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        (lambda url: url.replace(PASSWORD, "wrong-word"), "password authentication failed"),
        (bare, "password"),
        (lambda url: url.replace("/postgres#", "/nowhere#"), "does not exist"),
    ],
    ids=["wrong password", "no password", "no database"],
)
def test_a_server_that_lets_nobody_in_says_why(wrong, why: str, monkeypatch) -> None:
    """At once, in one sentence, without the password."""
    monkeypatch.setenv("PGPASSFILE", "none")
    with pytest.raises(LedgerUnwritable, match=why) as refused:
        opened(wrong(server_url())).read()
    assert "wrong-word" not in str(refused.value)
    assert PASSWORD not in str(refused.value)


def test_a_password_may_come_from_the_environment(monkeypatch) -> None:
    """PGPASSWORD, as PostgreSQL's own library takes it: the address need not hold one."""
    url = server_url()
    monkeypatch.setenv("PGPASSWORD", PASSWORD)
    opened(bare(url)).append(event(1))
    assert list(opened(url).read()) == events(1)


def test_no_server_is_told_so() -> None:
    """A port where nobody listens, given up at once when no time is allowed."""
    with pytest.raises(LedgerUnwritable, match="cannot be reached"):
        opened("postgresql://bench@127.0.0.1:1/studies#box", timeout=0).read()
