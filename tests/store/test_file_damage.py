"""What a ledger file survives or notices: cuts, flips, moved and rewritten lines."""

import os

import pytest

from planner.errors import LedgerDamaged, LedgerTooNew
from planner.store import FileLedger, contains, repair
from planner.store.lines import MAX_LINE, encode
from tests.store.makers import chain_of, chained, event, events, filled, sealed, written

LINES = chained(events(5))


@pytest.fixture
def path(tmp_path):
    """Where the ledger stands."""
    return tmp_path / "ledger.jsonl"


def test_a_cut_at_any_byte_costs_the_cut_line_alone(path, monkeypatch):
    """After a power cut the ledger opens, the rest goes to `.torn`, and writing goes on."""
    monkeypatch.setattr(os, "fsync", lambda descriptor: None)  # 2,000 of them take seconds
    whole = b"".join(LINES)
    aside = path.with_name("ledger.jsonl.torn")
    for cut in range(len(b"".join(LINES[:2])), len(whole)):
        ledger = written(path, [whole[:cut]])
        aside.unlink(missing_ok=True)
        kept, tail = whole[:cut].count(b"\n"), whole[:cut].rpartition(b"\n")[2]
        assert list(ledger.read()) == list(FileLedger(path).read()) == events(5)[:kept]
        assert (ledger.torn or b"") == tail
        ledger.append(event(kept + 1))
        assert path.read_bytes() == b"".join(LINES[: kept + 1])
        assert (aside.read_bytes() if aside.exists() else b"") == (tail and tail + b"\n")


def test_no_flipped_bit_goes_unnoticed(path):
    """One wrong bit anywhere is damage with a line number, or a last line set aside."""
    whole = b"".join(LINES[:3])
    for bit in range(8 * len(whole)):
        flipped = bytearray(whole)
        flipped[bit // 8] ^= 1 << bit % 8
        ledger = written(path, [flipped])
        try:
            seen = list(ledger.read())
        except LedgerDamaged:
            continue
        assert ledger.torn == LINES[2][:-1] + flipped[-1:]
        assert seen == events(2)


@pytest.mark.parametrize("tail", [b"\0" * 512, b"\0" * 5000, b"\xff", b"{", LINES[0][:-1]])
def test_a_tail_of_any_bytes_is_set_aside(path, tail):
    """Zeros or noise behind the last line end were never confirmed and stop nobody."""
    ledger = written(path, [*LINES[:2], tail])
    assert list(ledger.read()) == events(2)
    assert "is not whole" in ledger.warning
    ledger.append(event(3))
    assert "was set aside in ledger.jsonl.torn" in ledger.warning
    assert path.read_bytes() == b"".join(LINES[:3])


def test_torn_tails_add_up(path):
    """A second torn tail does not cost the first."""
    for tail in (b"first", b"second"):
        written(path, [LINES[0], tail]).append(event(2))
    assert path.with_name("ledger.jsonl.torn").read_bytes() == b"first\nsecond\n"


@pytest.mark.parametrize(
    ("lines", "reason"),
    [
        ([LINES[0], LINES[2], LINES[1], LINES[3]], "line 2: it is entry 3; those after 1 were"),
        ([LINES[1], LINES[0], LINES[2]], "line 1: it is entry 2; those after 0 were removed"),
        ([*LINES[:2], *LINES[3:]], "line 3: it is entry 4; those after 2 were removed"),
        ([*LINES[:2], LINES[1], *LINES[2:]], "line 3: it is entry 2, but stands after entry 2"),
        ([LINES[0], b"\n", *LINES[1:]], "line 2: it is empty"),
        ([b"\xef\xbb\xbf", *LINES], "line 1: an editor put a byte-order mark"),
        ([line[:-1] + b"\r\n" for line in LINES], "line 1: line ends were changed to CRLF"),
        ([LINES[0], b"[" * 100_000 + b"\n"], "line 2: its bytes"),
        ([LINES[0], sealed(b"[" * 100_000) + b"\n"], "line 2: it is not proper JSON"),
        ([LINES[0][:-1], *LINES[1:]], "line 1: its bytes"),
    ],
    ids=lambda part: part[:40] if isinstance(part, str) else "",
)
def test_misplaced_lines_are_named(path, lines, reason):
    """Swapped, removed, doubled, glued and foreign lines: damage, and nothing is written."""
    ledger = written(path, lines)
    for attempt in (ledger.read, lambda: ledger.append(event(6)), FileLedger(path).read):
        with pytest.raises(LedgerDamaged, match=reason):
            attempt()
    assert path.read_bytes() == b"".join(lines)


def test_many_spoilt_lines_make_a_short_message(path):
    """A file that is no ledger is refused in a few lines of text."""
    with pytest.raises(LedgerDamaged, match="and 995 more lines") as caught:
        written(path, [b"not a ledger\n"] * 1000).read()
    assert len(str(caught.value)) < 1000


def test_a_rewritten_line_breaks_the_link_to_the_next(path):
    """Who changes an earlier entry and seals it anew is found out at the next line."""
    forged = encode(event(2, score=99.0), chain_of(LINES[0]))
    with pytest.raises(LedgerDamaged, match="line 3: it does not follow entry 2"):
        written(path, [LINES[0], forged, *LINES[2:]]).read()


def test_a_lost_or_rewritten_tail_is_seen_against_an_earlier_head(path):
    """The chain cannot show these by itself; a head that was given away can."""
    head = filled(path, 5).head
    assert contains(FileLedger(path), head)
    shorter = written(path, LINES[:4])
    assert list(shorter.read()) == events(4)
    assert not contains(shorter, head)
    anew = written(path, chained([event(1, score=99.0), *events(5)[1:]]))
    assert len(anew.read()) == 5
    assert not contains(anew, head)


def test_a_line_of_a_newer_planner_stops_reading_and_writing(path):
    """Its entries are not misread, and nothing is put behind them."""
    newer = sealed(b'{"format":2,"seq":6') + b"\n"
    ledger = written(path, [*LINES, newer])
    for attempt in (ledger.read, lambda: ledger.append(event(6)), lambda: repair(path)):
        with pytest.raises(LedgerTooNew, match=r"ledger\.jsonl, line 6: .* newer planner"):
            attempt()
    assert path.read_bytes() == b"".join([*LINES, newer])


def test_a_line_without_end_is_not_read_into_memory(path):
    """Reading stops soon after the longest line allowed."""
    with path.open("wb") as file:
        file.write(LINES[0])
        file.truncate(64 * MAX_LINE)
    with pytest.raises(LedgerDamaged, match="no line end"):
        FileLedger(path).read()
