"""What every store must do; a new store joins by one entry in `makers.STORES`."""

import math

import pytest

from planner.domain.event import Kind
from planner.domain.ledger import Head
from planner.errors import InputError, LedgerConflict
from planner.store import contains
from planner.store.lines import EMPTY
from tests.store.makers import STORES, InFile, InMemory, chain_of, chained, event, events

BODIES = [
    {},
    {"setting": {"core": 51.0, "trfc": 480}, "readings": {"room °C": 23.5}, "list": [1, [], {}]},
    {"note": 'quotes " and \\ and \n and \x00 and \u2028 and \x9b and 🧊', "": None, "true": True},
    {"floats": [1e308, 5e-324, -0.0, 0.1, 1e16, 123456789.125], "ints": [2**64 - 1, -(2**63)]},
]


@pytest.fixture(params=STORES)
def store(request, tmp_path) -> InMemory | InFile:
    """One of the stores, empty."""
    return STORES[request.param](tmp_path)


@pytest.mark.parametrize("body", BODIES)
def test_what_was_appended_is_read_back(store, body):
    """An entry comes back equal, from the same object and from one opened later."""
    entry = event(1, **body)
    store.ledger.append(entry)
    assert list(store.ledger.read()) == [entry]
    assert list(store.reopen().read()) == [entry]


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_is_kept(store, kind):
    """Each kind of event comes back as that kind."""
    store.ledger.append(event(1, kind=kind))
    assert store.ledger.read()[0].kind is kind


@pytest.mark.parametrize("seq", [-1, 0, 1, 3, 5, 100])
def test_only_the_next_number_is_taken(store, seq):
    """A writer that was not first is told so, and nothing is written."""
    for entry in events(3):
        store.ledger.append(entry)
    before = store.kept()
    with pytest.raises(LedgerConflict, match="entry 4 is next"):
        store.ledger.append(event(seq))
    assert store.kept() == before
    store.ledger.append(event(4))


def test_the_bytes_are_the_same_in_every_store(store):
    """A store keeps exactly the lines of the format, in order, and nothing else."""
    entries = [event(seq, **body) for seq, body in enumerate(BODIES, start=1)]
    for entry in entries:
        store.ledger.append(entry)
    assert store.kept() == b"".join(chained(entries))


@pytest.mark.parametrize("after", range(-1, 7))
def test_a_part_is_the_end_of_the_whole(store, after):
    """Reading after a number gives the whole without its first entries."""
    for entry in events(5):
        store.ledger.append(entry)
    assert list(store.ledger.read(after)) == events(5)[max(after, 0) :]


def test_reading_as_it_grows_gives_the_whole(store):
    """What is read bit by bit adds up to what one reading gives."""
    seen = []
    for entry in events(5):
        store.ledger.append(entry)
        seen += store.ledger.read(len(seen))
    assert seen == list(store.reopen().read()) == events(5)


NO_NUMBERS = [math.nan, math.inf, -math.inf, 2**64, -(2**63) - 1, 10**5000]


@pytest.mark.parametrize(
    "value",
    [*NO_NUMBERS, (1, 2), {1: "a"}, {"\ud800": 1}, "\udfff", b"x", {2}],
    ids=lambda value: f"{type(value).__name__}",
)
def test_what_json_cannot_give_back_is_refused(store, value):
    """NaN and the like are the caller's mistake, found before anything is written."""
    store.ledger.append(event(1))
    before = store.kept()
    with pytest.raises(InputError, match="entry 2"):
        store.ledger.append(event(2, readings={"room": [value]}))
    assert store.kept() == before
    store.ledger.append(event(2))


def test_the_head_is_the_last_line(store):
    """An empty ledger has the empty head; then it is number and chain of the last line."""
    assert store.ledger.head == Head(0, "0" * 64) == EMPTY
    for entry in events(3):
        store.ledger.append(entry)
        last = store.kept().splitlines()[-1]
        assert store.ledger.head == Head(entry.seq, chain_of(last))
    reopened = store.reopen()
    reopened.read()
    assert reopened.head == store.ledger.head


def test_every_earlier_head_is_contained_and_no_other(store):
    """A head that was given away stays recognisable; one of another ledger is not."""
    heads = [store.ledger.head]
    for entry in events(4):
        store.ledger.append(entry)
        heads.append(store.ledger.head)
    assert all(contains(store.reopen(), head) for head in heads)
    assert not contains(store.reopen(), Head(3, heads[4].chain))
    assert not contains(store.reopen(), Head(5, heads[4].chain))
    assert not contains(store.reopen(), Head(0, heads[4].chain))
