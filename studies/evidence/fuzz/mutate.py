"""Breaks texts, tables and bytes at random, the way people, disks and strangers do."""

import copy
from random import Random
from typing import Any

WORDS = [
    *("nan", "inf", "-inf", "1e308", "-1e308", "5e-324", "0", "-1", "0.1", "1e-9", "true", "''"),
    *("9223372036854775807", "9223372036854775808", "1" * 400, "1979-05-27T07:32:00Z", "0x10"),
    *("[]", "{}", "[[]]", "[1, 'a', {}]", "{ a = 1 }", "'5.1GHz'", "'1350mV'", "'nan'", "'inf V'"),
    *(
        "'\\u202e'",
        "'" + "x" * 5000 + "'",
        "'../../etc'",
        "'a\\b'",
        "'Ω'",
        "'\U0001f9ca'",
        "'[31m'",
    ),
    *("'clock'", "'up'", "'down'", "'choice'", "'edge'", "'peak'", "'frontier'", "'clock * clock'"),
    *("'(' ", "'1/0'", "'a>=b>=c'", "'" + "(" * 2000 + "'", "[" * 300 + "]" * 300, '"""', "'''"),
]
VALUES: list[Any] = [
    *(None, True, False, 0, -1, 1, 2**63, 2**64 - 1, -(2**63), 1e308, -1e308, 5e-324, 0.1),
    *("", "x", "pass", "crash", "void", "clock", "Ω", "\x1b[31m", "a" * 5000, "1.2V", "nan"),
    *(
        [],
        {},
        [[]],
        [{}],
        {"clock": 1},
        {"clock": "x"},
        {"": 0},
        ["clock"],
        [0, 1],
        {"a": {"b": []}},
    ),
    [[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]],
]


def text(random: Random, given: str) -> str:
    """A text with up to four lines, values or characters broken."""
    lines = given.split("\n")
    for _ in range(random.choice([1, 1, 1, 2, 4])):
        at = random.randrange(len(lines))
        match random.randrange(8):
            case 0:
                del lines[at : at + random.randint(1, 3)]
            case 1:
                lines.insert(random.randrange(len(lines) + 1), lines[at])
            case 2:
                other = random.randrange(len(lines))
                lines[at], lines[other] = lines[other], lines[at]
            case 3 | 4 | 5:
                key, sign, _ = lines[at].partition("=")
                lines[at] = f"{key}= {random.choice(WORDS)}" if sign else random.choice(WORDS)
            case 6:
                key, sign, rest = lines[at].partition("=")
                lines[at] = f"{_broken(random, key)}{sign}{rest}"
            case _:
                lines[at] = _broken(random, lines[at])
        lines = lines or [""]
    return "\n".join(lines)


def _broken(random: Random, line: str) -> str:
    at = random.randrange(len(line) + 1)
    new = random.choice(["", "\0", "\r", "'", '"', "[", "]]", "=", "#", "\ud800", "é", "0", "."])
    return line[:at] + new + line[at + random.randrange(2) :]


def table(random: Random, given: Any) -> Any:
    """A copy of nested tables and lists with one to three values broken."""
    broken = copy.deepcopy(given)
    for _ in range(random.choice([1, 1, 1, 2, 3])):
        _break_one(random, broken)
    return broken


def _break_one(random: Random, given: Any) -> None:
    """Goes down at random and breaks what it meets."""
    places = list(given) if isinstance(given, dict) else list(range(len(given)))
    if not places:
        return
    at = random.choice(places)
    if isinstance(given[at], (dict, list)) and given[at] and random.random() < 0.7:
        _break_one(random, given[at])
    elif random.random() < 0.2:
        del given[at]
    elif isinstance(given, dict) and random.random() < 0.2:
        given[random.choice([*given, "x", "run", "settings"])] = given[at]
    else:
        given[at] = copy.deepcopy(random.choice(VALUES))


def raw(random: Random, given: bytes) -> bytes:
    """Bytes cut, flipped, zeroed, doubled, moved, or with something put between."""
    data = bytearray(given)
    for _ in range(random.randint(1, 3)):
        at = random.randrange(len(data) + 1)
        end = min(len(data), at + random.choice([1, 8, 100, 512, 4096]))
        match random.randrange(7):
            case 0:
                del data[at:]
            case 1:
                if at < len(data):
                    data[at] ^= 1 << random.randrange(8)
            case 2:
                data[at:end] = bytes(end - at)
            case 3:
                data[at:at] = data[at:end]
            case 4:
                del data[at:end]
            case 5:
                data[at:at] = random.randbytes(random.choice([1, 20, 600]))
            case _:
                lines = data.split(b"\n")
                random.shuffle(lines)
                data = bytearray(b"\n".join(lines))
    return bytes(data)
