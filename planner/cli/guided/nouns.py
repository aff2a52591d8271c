"""The names of what can be told of a run: readings, parts of the score, knobs, facts."""

import difflib
from dataclasses import dataclass
from enum import Enum

from planner.domain.definition import Definition
from planner.domain.tables import Workload
from planner.errors import InputError

FACTS = {
    "score": "score",
    "errors": "errors",
    "after": "failed_after_s",
    "failed-after": "failed_after_s",
    "ran": "run_minutes",
    "run-minutes": "run_minutes",
    "took": "minutes",
    "minutes": "minutes",
    "capped": "capped",
    "suspect": "suspect",
    "boot": "boot",
}
"""Words that name a fact of any run, and the fact as `Study.record` calls it."""


class Kind(Enum):
    """What a name stands for."""

    READING = "a reading"
    SUBSCORE = "a part of the score"
    KNOB = "a knob"
    FACT = "a fact of every run"


@dataclass(frozen=True, slots=True)
class Noun:
    """A name that a number or word can be given to."""

    name: str
    kind: Kind
    unit: str = ""


def nouns_of(definition: Definition, workload: Workload) -> tuple[Noun, ...]:
    """All that can be told by name of a run of this workload."""
    readings = [Noun(n, Kind.READING, r.unit) for n, r in definition.readings.items()]
    parts = [Noun(name, Kind.SUBSCORE) for name, _ in workload.subscores]
    knobs = [Noun(n, Kind.KNOB, k.unit) for n, k in definition.knobs.items()]
    facts = [Noun(name, Kind.FACT) for name in FACTS]
    return (*readings, *parts, *knobs, *facts)


def named(nouns: tuple[Noun, ...], word: str) -> Noun | None:
    """The noun meant, letters large or small where that is no doubt; None: there is none.

    Raises:
        InputError: several are meant by it.
    """
    found = [noun for noun in nouns if noun.name == word]
    found = found or [noun for noun in nouns if noun.name.casefold() == word.casefold()]
    if len(found) > 1:
        kinds = " and ".join(f"{noun.kind.value} {noun.name}" for noun in found)
        raise InputError(f"{word!r} may be {kinds}: record this run with planner record")
    return found[0] if found else None


def unknown(nouns: tuple[Noun, ...], word: str) -> InputError:
    """The error to raise for a name that there is not."""
    told = [noun.name for noun in nouns if noun.kind is not Kind.FACT]
    close = difflib.get_close_matches(word, [noun.name for noun in nouns], n=1)
    hint = f"did you mean {close[0]!r}?" if close else f"the study has {', '.join(told)}"
    return InputError(f"{word!r} is no reading, part of the score, knob or fact: {hint}")
