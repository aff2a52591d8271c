"""One event, one line: the codec that all stores share, so that their bytes are the same.

    {"format":1,"seq":7,"time":T,"bench":B,"id":I,"kind":K,"body":{...},"prev":P,"chain":C}

UTF-8 JSON without blanks, keys of the body sorted, ended by one line feed. `chain` is the SHA-256
(FIPS 180-4), in 64 hex digits, over the line's bytes before `,"chain":`; `prev` is the `chain` of
the line before, 64 zeros in the first line. So each line verifies by itself, and a line that was
altered, moved or removed no longer fits its neighbours. `docs/ledger-format.md` says more.
"""

import json
import re
from collections.abc import Iterator, Mapping
from functools import cached_property
from hashlib import sha256
from typing import Any, NoReturn

import orjson

from planner.domain.event import FORMAT, Event, Kind
from planner.domain.ledger import Head
from planner.errors import InputError, LedgerConflict, LedgerDamaged, LedgerTooNew
from planner.store.plain import TEXT, find_fault

EMPTY = Head(0, "0" * 64)
"""Head of a ledger without entries."""
MAX_LINE = 4 * 1024 * 1024
"""Longest line in bytes; what claims to be longer is not read into memory."""
SUFFIX = len(',"chain":""}') + 64
"""Bytes from `,"chain":` to the closing brace."""

_HEADER = re.compile(
    rf'\{{"format":{FORMAT},"seq":([1-9][0-9]{{0,15}}),"time":"({TEXT})","bench":"({TEXT})","id":"({TEXT})"'
    r',"kind":"([a-z]+)","body":(?=\{)'
)
_PREV = ',"prev":"'
_AFTER_BODY = len(_PREV) + 64 + 1 + SUFFIX
_KINDS = {kind.value: kind for kind in Kind}


def encode(event: Event, prev: str) -> bytes:
    """The line of `event`, with its line feed, after the line whose chain is `prev`.

    Raises:
        InputError: a value that the line cannot give back as it was (NaN, a tuple, half a
            character); `time`, `bench` or `id` with a quote, backslash or control character.
    """
    fault = find_fault(event)
    if fault is None:
        try:
            line = _encode(event, prev)
            if decode(line[:-1], eager=True)[0] == event:
                return line
            fault = "it would not be read back as it was given"
        except (ValueError, TypeError, LedgerDamaged) as error:
            fault = str(error)
    raise InputError(f"entry {event.seq} ({event.kind}) cannot be written: {fault}")


def next_line(event: Event, head: Head) -> bytes:
    """The line of `event` as the entry that follows `head`.

    Raises:
        LedgerConflict: `event.seq` is not the next number.
        InputError: the event cannot be written as a line.
    """
    if event.seq != head.seq + 1:
        raise LedgerConflict(
            f"entry {event.seq} was to be written, but entry {head.seq + 1} is next: "
            "another window or bench was first; read again and retry"
        )
    return encode(event, head.chain)


def decode(raw: bytes, eager: bool = False) -> tuple[Event, str, str]:
    """Event, `prev` and `chain` of one line without its line feed, verified by itself.

    Raises:
        LedgerDamaged: the line does not verify; the message is the reason alone.
        LedgerTooNew: the line verifies and was written by a newer planner.
    """
    chain = sha256(raw[:-SUFFIX]).hexdigest()
    try:
        text = raw.decode()
        if text[-SUFFIX:] != f',"chain":"{chain}"}}' or len(raw) >= MAX_LINE:
            raise LedgerDamaged(_spoilt(raw))
        header = _HEADER.match(text)
        if header is None:
            _refuse(text)
        end = len(text) - _AFTER_BODY
        seq, time, bench, token, kind = header.groups()
        if not text.startswith(_PREV, end):
            raise LedgerDamaged("its keys are not those of a ledger line")
        # Most proposals are answered, and what was asked is seldom looked at again.
        told = _KINDS[kind]
        body = Deferred if told is Kind.PROPOSED and not eager else _parse_whole
        event = Event(int(seq), time, bench, token, told, body(text[header.end() : end]))
        return event, text[end + len(_PREV) : -SUFFIX - 1], chain
    except KeyError:
        raise LedgerDamaged(f"its kind {kind!r} is unknown") from None
    except UnicodeDecodeError:
        raise LedgerDamaged("it is not UTF-8 text") from None
    except (ValueError, RecursionError) as error:
        raise LedgerDamaged(f"it is not proper JSON: {error}") from None


class Deferred(Mapping[str, Any]):
    """A body whose bytes are verified and that is parsed when it is first looked into."""

    def __init__(self, text: str) -> None:
        """`text`: JSON of one table."""
        self._text = text

    @cached_property
    def _table(self) -> dict[str, Any]:
        try:
            return _parse_whole(self._text)
        except (ValueError, RecursionError) as error:
            raise LedgerDamaged(f"a proposal is not proper JSON: {error}") from None

    def __getitem__(self, key: str) -> Any:
        # Replay asks every proposal for its number and few for more. Keys are sorted, and none
        # before this one holds a table, so the first that is found is the body's own; within a
        # text its quotes would be escaped.
        if key == "run" and (number := self._text.partition('"run":')[2].partition(",")[0]):
            return int(number) if number.isdecimal() else self._table[key]
        return self._table[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._table)

    def __len__(self) -> int:
        return len(self._table)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Mapping) and self._table == dict(other)

    __hash__ = None  # type: ignore[assignment]


def _parse_whole(text: str) -> dict[str, Any]:
    body = orjson.loads(text)
    if not isinstance(body, dict):
        raise ValueError("its body is not one table")
    keys = len(body) + sum([len(v) for v in body.values() if v.__class__ is dict])
    # orjson is ten times as fast, and silent about a key that stands there twice.
    return body if text.count(":") == keys else _parse_strictly(text)


def _encode(event: Event, prev: str) -> bytes:
    text = (
        f'{{"format":{FORMAT},"seq":{event.seq},"time":"{event.time}","bench":"{event.bench}",'
        f'"id":"{event.id}","kind":"{event.kind}",'
        f'"body":{_ENCODER.encode(dict(event.body))},"prev":"{prev}"'
    ).encode()
    return b'%b,"chain":"%b"}\n' % (text, sha256(text).hexdigest().encode())


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    table = dict(pairs)
    if len(table) != len(pairs):
        raise ValueError("a key stands there twice")
    return table


_ENCODER = json.JSONEncoder(
    ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")
)
_parse_strictly = json.JSONDecoder(object_pairs_hook=_once).decode


def _spoilt(raw: bytes) -> str:
    """Why a line's chain does not fit, in the words that help most."""
    if len(raw) >= MAX_LINE:
        return f"it is longer than {MAX_LINE} bytes"
    if raw.endswith(b"\r"):
        return "line ends were changed to CRLF by an editor or a transfer"
    if raw.startswith(b"\xef\xbb\xbf"):
        return "an editor put a byte-order mark before it"
    if not raw.strip(b"\0 \t"):
        return "it is empty"
    return "its bytes do not match its chain"


def _refuse(text: str) -> NoReturn:
    """Tell a newer format from a line that has the right chain and the wrong keys."""
    line = json.loads(text)
    written = line.get("format") if isinstance(line, dict) else None
    if type(written) is int and written > FORMAT:
        raise LedgerTooNew(
            f"written by a newer planner (format {written}; this one reads {FORMAT})"
        )
    raise LedgerDamaged("its keys are not those of a ledger line")
