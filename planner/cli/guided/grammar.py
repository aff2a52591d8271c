"""From a typed line to what it means; what is not understood is never guessed.

A line is an order (`undo`, `show`), or says how a run ended: an outcome and, in any order after
it, what else there is to tell, as `c 85s hang` or `p 241.7 hotspot=81 note fan was off`.
"""

import difflib
import re

from planner.cli.guided.answer import Answer, Complaint, Order, Wish
from planner.cli.guided.reader import Reader
from planner.cli.guided.words import JOINED, OUTCOMES, OWN, SEEN, WISHES
from planner.domain.definition import Definition
from planner.errors import InputError

_LONGEST = 2000
_TOUCHING = re.compile(r"\s*=\s*")
_COMMA = re.compile(r"[,;](?=\s|$)")
_FREE = re.compile(r"(?:^|(?<=\s))(note|saw|symptom)(?=[\s:=]|$)[\s:=]*", re.IGNORECASE)
"""What opens words that are taken as they stand."""


def understood(line: str, definition: Definition, workload: str = "") -> Answer | Order | Complaint:
    """What the line means in a study; `workload`: of the run that was asked for."""
    try:
        return _meaning(line, definition, workload)
    except InputError as error:
        return Complaint(str(error))


def _meaning(line: str, definition: Definition, workload: str) -> Answer | Order:
    flat = " ".join(line.lstrip("\N{ZERO WIDTH NO-BREAK SPACE}").split())
    if len(flat) > _LONGEST:
        raise InputError(f"{len(flat)} characters on one line, expected at most {_LONGEST}")
    if not flat.isprintable():
        raise InputError("there are characters in it that cannot be printed")
    if not flat:
        return Order(Wish.NOTHING)
    first, _, rest = flat.partition(" ")
    wish = WISHES.get(first.casefold().rstrip(":"))
    return _answer(flat, definition, workload) if wish is None else _order(first, wish, rest)


def _order(first: str, wish: Wish, rest: str) -> Order:
    if wish is Wish.NOTE:
        if not rest:
            raise InputError("note: expected what is to be noted after it")
    elif rest and not (wish is Wish.SHOW and rest == "all"):
        raise InputError(f"{rest!r} after {first}: expected nothing after it")
    return Order(wish, rest)


def _answer(flat: str, definition: Definition, workload: str) -> Answer:
    head, free = _free_words(flat)
    words = _words(head)
    own = bool(words) and words[0].casefold() in OWN
    if not words or not (own or any(word.casefold() in OUTCOMES for word in words)):
        raise _no_outcome(words[0] if words else flat)
    workloads = definition.workloads
    run = definition.workload if own else workloads.get(workload, definition.workload)
    reader = Reader(words[own:], definition, run, own)
    return reader.answer(free)


def _free_words(flat: str) -> tuple[str, dict[str, str]]:
    """What stands before the free words, and those: what was seen, a note to the line's end.

    Raises:
        InputError: nothing stands after the word that opens them.
    """
    found = _FREE.search(flat)
    if found is None:
        return flat, {}
    opening, text = found[1].casefold(), flat[found.end() :]
    told = {"note": text}
    if opening != "note":
        told = {"symptom": text}
        note = re.search(r"(?:^|(?<=\s))note(?=[\s:=]|$)[\s:=]*", text, re.IGNORECASE)
        if note is not None:
            told = {"symptom": text[: note.start()], "note": text[note.end() :]}
    told = {name: words.strip().strip("\"'").strip() for name, words in told.items()}
    for name, words in told.items():
        if not words:
            raise InputError(f"{opening if name == 'symptom' else name}: expected words after it")
    return flat[: found.start()], told


def _words(head: str) -> list[str]:
    """The words, those that belong together made one."""
    words = _COMMA.sub(" ", _TOUCHING.sub("=", head)).split()
    joined: list[str] = []
    for word in words:
        pair = (joined[-1].casefold(), word.casefold()) if joined else ("", "")
        if pair in JOINED:
            joined[-1] = JOINED[pair]
        else:
            joined.append(word)
    return joined


def _no_outcome(word: str) -> InputError:
    if word.casefold() in SEEN:
        return InputError(f"{word!r} is no outcome; if it crashed: c {word}")
    known = [w for w in (*OUTCOMES, *WISHES, *OWN) if len(w) > 1]
    close = difflib.get_close_matches(word.casefold(), known, n=1)
    hint = f"did you mean {close[0]!r}?" if close else "type ? to see what may be typed"
    return InputError(f"{word!r} is not understood: {hint}")
