"""The line format: what it says it is, and what it refuses."""

import hashlib
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.event import Event, Kind
from planner.errors import InputError, LedgerDamaged, LedgerTooNew
from planner.store.lines import EMPTY, MAX_LINE, decode, encode
from tests.store.makers import TIME, chained, event, events, sealed

FIXTURE = Path(__file__).parent / "fixtures" / "ledger-format-1.jsonl"
FIXTURE_EVENTS = [
    Event(1, TIME, "left", "a1", Kind.DEFINED, {"text": 'name = "evening"\n'}),
    Event(2, TIME, "left", "a2", Kind.PROPOSED, {"setting": {"core": 51.0, "trfc": 480}}),
    Event(3, TIME, "Bänk 2", "a3", Kind.RUN, {"outcome": "pass", "room °C": 23.5, "score": 1e16}),
    Event(4, TIME, "left", "a4", Kind.AMENDED, {"outcome": "void", "list": [None, True, -0.0]}),
    Event(5, TIME, "left", "a5", Kind.ACCEPTED, {}),
]

plain = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**63), 2**64 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


def test_a_ledger_of_format_1_is_read_by_every_later_planner():
    """The file kept from the first release decodes to the events that were written into it."""
    lines = FIXTURE.read_bytes().splitlines(keepends=True)
    assert [decode(line[:-1])[0] for line in lines] == FIXTURE_EVENTS
    assert chained(FIXTURE_EVENTS) == lines


def test_chain_and_prev_follow_the_published_rule():
    """`chain` is SHA-256 (FIPS 180-4) over the bytes before its key; `prev` is the one before."""
    before = "0" * 64
    for line in FIXTURE.read_bytes().splitlines():
        told = json.loads(line)
        assert told["prev"] == before
        before = hashlib.sha256(line[: line.rindex(b',"chain":')]).hexdigest()
        assert told["chain"] == before
        assert ",".join(told) == "format,seq,time,bench,id,kind,body,prev,chain"


@given(st.dictionaries(st.text(), plain, max_size=4), st.sampled_from(Kind))
def test_any_plain_body_comes_back(body, kind):
    """Encode, then decode: the same event, on one line, in the same bytes again."""
    entry = event(7, kind=kind, **{f"_{key}": value for key, value in body.items()})
    line = encode(entry, EMPTY.chain)
    assert decode(line[:-1]) == (entry, EMPTY.chain, json.loads(line)["chain"])
    assert line.count(b"\n") == 1


@given(st.binary(max_size=200))
def test_any_bytes_are_refused_in_our_own_words(raw):
    """Noise never decodes and never raises anything but the ledger's own error."""
    with pytest.raises(LedgerDamaged):
        decode(raw)


@given(st.binary(max_size=200))
def test_any_bytes_with_a_right_chain_are_refused_too(raw):
    """A right chain over noise does not make a line."""
    with pytest.raises(LedgerDamaged):
        decode(sealed(raw))


START = chained(events(1))[0].partition(b'"body":')[0] + b'"body":'
END = b',"prev":"' + b"0" * 64 + b'"'


@pytest.mark.parametrize(
    "body",
    [
        b"[" * 100_000,
        b'{"a":' * 100_000,
        b'{"a":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        b'{"a":1,"a":2}',
        b'{"a":{"b":1,"c":2,"b":1}}',
        b'{"a":[{"b":1,"b":1}]}',
        b'{"a":{"b":{"c":1,"c":1}}}',
        b'{"a\\":":1,"b":2,"b":3}',
        b'{"a" :1,"a":2}',
        b'{"a":NaN}',
        b'{"a":-Infinity}',
        b'{"a":1e999}',
        b'{"a":' + b"9" * 400 + b".5}",
        b'{"a":' + b"9" * 10_000 + b"}",
        b'{"a":"\xff"}',
        b'{"a":"\xed\xa0\x80"}',
        b'{"a":"\0"}',
        b'{"a":1}\0',
        b'{"a":1},"more":2',
        b'{"a":1},"kind":"note"',
        b"{'a':1}",
        b"{",
        b"[]",
        b"1",
        b"null",
        b"",
    ],
    ids=lambda body: repr(body[:24]),
)
def test_hostile_bodies_are_refused_though_their_chain_is_right(body):
    """Nesting, doubled keys, infinite numbers, odd bytes: refused, whoever sealed them."""
    decode(sealed(START + b'{"a":1}' + END))
    with pytest.raises(LedgerDamaged):
        decode(sealed(START + body + END))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"run","body"', b'"overheard","body"'),
        (b'"seq":1', b'"seq":01'),
        (b'"seq":1', b'"seq":0'),
        (b'"seq":1', b'"seq":-1'),
        (b'"seq":1', b'"seq":1.0'),
        (b'"seq":1', b'"seq":true'),
        (b'"seq":1', b'"seq":' + b"1" * 5000),
        (b'"seq":1', b'"seq":1,"seq":1'),
        (b'"format":1', b'"format":0'),
        (b'"format":1', b'"format":"2"'),
        (b'"format":1', b'"format":true'),
        (b'{"format"', b' {"format"'),
        (b'{"format"', b'\xef\xbb\xbf{"format"'),
        (b'"bench":"left"', b'"bench":5'),
        (b'"bench":"left"', b'"bench":"le\x1bft"'),
        (b'"prev":"', b'"prev": "'),
        (b'"prev":"0', b'"prev":"'),
        (b'"prev":"', b'"last":"'),
    ],
    ids=lambda part: repr(part[:24]),
)
def test_hostile_headers_are_refused_though_their_chain_is_right(old, new):
    """Another key, order, type or spelling in the header is not this format."""
    good = START + b'{"a":1}' + END
    assert old in good
    with pytest.raises(LedgerDamaged):
        decode(sealed(good.replace(old, new)))


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (lambda line: line + b"\r", "CRLF"),
        (lambda line: b"\xef\xbb\xbf" + line, "byte-order mark"),
        (lambda line: b"\0" * 512, "empty"),
        (lambda line: b"", "empty"),
        (lambda line: line.replace(b"left", b"lift"), "do not match"),
        (lambda line: line.replace(b"left", b"\xff\xff\xff\xff"), "UTF-8"),
        (lambda line: line[:-70] + line[-70:].upper(), "do not match"),
    ],
)
def test_the_reason_helps_to_find_the_culprit(spoil, reason):
    """What editors, transfers and power losses do to a line is named."""
    with pytest.raises(LedgerDamaged, match=reason):
        decode(spoil(chained(events(1))[0][:-1]))


def test_a_newer_format_is_refused_politely():
    """A sound line of a newer planner is no damage, whatever its keys are."""
    with pytest.raises(LedgerTooNew, match=r"format 2; this one reads 1"):
        decode(sealed(b'{"format":2,"number":1,"what":{}'))


@pytest.mark.parametrize("name", ["time", "bench", "id"])
@pytest.mark.parametrize("text", ['a"b', "a\\b", "a\nb", "\x1b[2J", "\ud800", None, 5])
def test_header_texts_need_no_escapes(name, text):
    """Quotes, backslashes and control characters in a bench's name are refused by name."""
    header = {"time": TIME, "bench": "left", "id": "a", name: text}
    with pytest.raises(InputError, match=name):
        encode(Event(1, kind=Kind.RUN, body={}, **header), EMPTY.chain)


@pytest.mark.parametrize(
    ("value", "fault"),
    [
        (float("nan"), r"body\.readings\.room is nan"),
        ((1,), r"body\.readings\.room is a tuple"),
        ("\ud800", r"body\.readings\.room holds half"),
        ("x" * MAX_LINE, "longer than"),
    ],
    ids=["nan", "tuple", "surrogate", "long"],
)
def test_a_refusal_names_the_place(value, fault):
    """The message says which value it was, not only that there was one."""
    with pytest.raises(InputError, match=fault):
        encode(event(1, readings={"room": value}), EMPTY.chain)


def test_a_body_is_at_most_64_levels_deep():
    """Far below where the stack of any reader ends, so what was written can always be read."""
    body = {}
    for _ in range(62):
        body = {"in": body}
    encode(event(1, deep=body), EMPTY.chain)
    for _ in range(2000):
        body = {"in": body}
    with pytest.raises(InputError, match="64 levels"):
        encode(event(1, deep=body), EMPTY.chain)


@pytest.mark.parametrize("seq", [0, -1, 1.0, True, "1", 10**17])
def test_an_entry_number_is_a_positive_whole_number(seq):
    """Any other number is refused before it becomes a line."""
    with pytest.raises(InputError):
        encode(Event(seq, TIME, "left", "a", Kind.RUN, {}), EMPTY.chain)
