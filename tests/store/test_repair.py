"""The way out of a damaged ledger: what is spoilt is named, all else is kept."""

import errno
import shutil

import pytest

from planner.domain.event import Kind
from planner.errors import LedgerDamaged, LedgerUnwritable, StudyMissing
from planner.store import FileLedger, repair
from planner.store.lines import encode
from planner.store.scan import SET_ASIDE
from tests.store.makers import chain_of, chained, event, events, written

LINES = chained(events(5))


@pytest.fixture
def path(tmp_path):
    """Where the ledger stands."""
    return tmp_path / "ledger.jsonl"


@pytest.mark.parametrize("spoilt", range(1, 6))
def test_a_repair_leaves_out_the_spoilt_line_alone(path, spoilt):
    """Whichever line is spoilt: the rest is read, writing goes on, no byte is rewritten."""
    lines = [line.replace(b'"left"', b'"lift"', i == spoilt) for i, line in enumerate(LINES, 1)]
    written(path, lines)
    note = repair(path, bench="right")
    kept = [entry for entry in events(5) if entry.seq != spoilt]
    ledger = FileLedger(path)
    assert list(ledger.read()) == [*kept, note]
    assert (note.kind, note.bench, note.seq) == (Kind.NOTE, "right", 6)
    assert [flaw["line"] for flaw in note.body[SET_ASIDE]] == [spoilt]
    ledger.append(event(7))
    assert list(FileLedger(path).read()) == [*kept, note, event(7)]
    assert path.with_name("ledger.jsonl.damaged-1").read_bytes() == b"".join(lines)
    assert path.read_bytes().startswith(b"".join(lines))


def glued(lines):
    """Lines 2 and 3 as one: the line end between them was lost."""
    return [lines[0], lines[1][:-1] + b"#" + lines[2], *lines[3:]]


def split(lines):
    """Line 2 as two: a line end appeared in its middle."""
    return [lines[0], lines[1][:50] + b"\n", lines[1][51:], *lines[2:]]


def swapped(lines):
    """Lines 2 and 3 have changed places."""
    return [lines[0], lines[2], lines[1], *lines[3:]]


def removed(lines):
    """Line 3 is gone."""
    return [*lines[:2], *lines[3:]]


def forged(lines):
    """Line 2 says something else, with a chain of its own."""
    return [lines[0], encode(event(2, score=99.0), chain_of(lines[0])), *lines[2:]]


def inserted(lines):
    """Foreign text stands between lines 2 and 3."""
    return [*lines[:2], b"see my notes\n", b"\n", *lines[2:]]


@pytest.mark.parametrize(
    ("spoil", "seqs"),
    [
        (glued, [1, 4, 5]),
        (split, [1, 3, 4, 5]),
        (swapped, [1, 3, 4, 5]),
        (removed, [1, 2, 4, 5]),
        (forged, [1, 2, 3, 4, 5]),
        (inserted, [1, 2, 3, 4, 5]),
    ],
)
def test_every_kind_of_damage_can_be_repaired_once(path, spoil, seqs):
    """What verifies is kept with its number, what is wrong is named, a second repair is none."""
    written(path, spoil(LINES))
    note = repair(path)
    assert [entry.seq for entry in FileLedger(path).read()] == [*seqs, note.seq]
    assert note.seq == 6
    assert repair(path) is None
    assert [file.name for file in path.parent.glob("*.damaged*")] == ["ledger.jsonl.damaged-1"]


def test_a_note_accepts_no_other_bytes_than_it_names(path):
    """Further damage to a line that was set aside, or to the note, is damage again."""
    spoilt = LINES[1].replace(b"left", b"lift")
    written(path, [LINES[0], spoilt, *LINES[2:]])
    repair(path)
    sound = path.read_bytes()
    for old, new in ((b"lift", b"loft"), (b"repaired", b"rep4ired")):
        path.write_bytes(sound.replace(old, new))
        with pytest.raises(LedgerDamaged, match="line 2"):
            FileLedger(path).read()
        repair(path)
        assert [entry.seq for entry in FileLedger(path).read()][:4] == [1, 3, 4, 5]


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.NOTE])
def test_only_a_note_accepts_flaws(path, kind):
    """The same list in a run or any other entry excuses nothing."""
    written(path, [LINES[0], b"noise\n", *LINES[1:]])
    note = repair(path)
    last = encode(event(6, kind=kind, **note.body), chain_of(LINES[4]))
    written(path, [LINES[0], b"noise\n", *LINES[1:], last])
    with pytest.raises(LedgerDamaged, match="line 2"):
        FileLedger(path).read()


@pytest.mark.parametrize("listed", [None, 5, "x", [None], [[]], [{}], [{"line": "2"}], {"line": 2}])
def test_a_note_with_an_odd_list_accepts_nothing(path, listed):
    """What is not a list of lines is passed over."""
    odd = encode(event(6, kind=Kind.NOTE, set_aside=listed), chain_of(LINES[4]))
    assert len(written(path, [*LINES, odd]).read()) == 6
    with pytest.raises(LedgerDamaged, match="line 2"):
        written(path, [LINES[0], b"noise\n", *LINES[1:], odd]).read()


def test_nothing_before_a_line_set_aside_can_be_exchanged(path):
    """The note names the entry before the gap too, where the spoilt line holds no link."""
    spoilt = LINES[1].replace(b"left", b"lift")
    written(path, [LINES[0], spoilt, *LINES[2:]])
    repair(path)
    other = chained([event(1, score=99.0)])[0]
    path.write_bytes(path.read_bytes().replace(LINES[0], other))
    with pytest.raises(LedgerDamaged, match="line 2"):
        FileLedger(path).read()


def test_a_reader_that_met_the_damage_goes_on_after_the_repair(path):
    """An open window need not be closed while another one repairs."""
    ledger = written(path, [LINES[0], b"noise\n", *LINES[1:]])
    with pytest.raises(LedgerDamaged):
        ledger.read()
    note = repair(path)
    assert list(ledger.read()) == [*events(5), note]


@pytest.mark.parametrize("lines", [[b"noise\n"], [line[:-1] + b"\r\n" for line in LINES]])
def test_where_nothing_verifies_there_is_nothing_to_repair(path, lines):
    """A converted file is not gutted but left as it is, for a sound copy to be put back."""
    written(path, lines)
    with pytest.raises(LedgerDamaged, match="put a sound copy back"):
        repair(path)
    assert path.read_bytes() == b"".join(lines)


def test_a_repair_sets_a_torn_tail_aside_too(path):
    """Spoilt line and torn tail at once: both are kept for the record, neither in the way."""
    written(path, [LINES[0], b"noise\n", LINES[1], b"torn"])
    repair(path)
    assert [entry.seq for entry in FileLedger(path).read()] == [1, 2, 3]
    assert path.with_name("ledger.jsonl.torn").read_bytes() == b"torn\n"


def test_a_ledger_that_is_not_there_is_not_repaired(path):
    """Nothing is created in its place."""
    with pytest.raises(StudyMissing, match=r"no ledger .*ledger\.jsonl"):
        repair(path)
    assert not path.exists()


def test_a_repair_that_finds_no_room_changes_nothing(path, monkeypatch):
    """Without its copy the note is not written, and no half copy is left."""
    lines = [LINES[0], b"noise\n", LINES[1]]
    written(path, lines)

    def copy_half(source, target):
        target.write_bytes(b"half")
        raise OSError(errno.ENOSPC, "no room")

    monkeypatch.setattr(shutil, "copyfile", copy_half)
    with pytest.raises(LedgerUnwritable, match="no room"):
        repair(path)
    assert path.read_bytes() == b"".join(lines)
    assert not list(path.parent.glob("*.damaged*"))
