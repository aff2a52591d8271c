"""Takes the words of an answer from the left; a word that has no place is refused, by name."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from planner.cli.guided.answer import Answer
from planner.cli.guided.durations import duration_in
from planner.cli.guided.meaning import Told, fitted
from planner.cli.guided.nouns import FACTS, Kind, Noun, named, nouns_of, unknown
from planner.cli.guided.words import FILLERS, OUTCOMES, SEEN
from planner.domain.definition import Definition
from planner.domain.outcome import Capped
from planner.domain.quantity import conversion, parse_number
from planner.domain.tables import Workload
from planner.entries.facts import knob_values
from planner.errors import InputError

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")
_IN_MINUTES = ("minutes", "run-minutes")
"""Names that say their unit; every other time needs one."""


class Reader:
    """Reads one answer."""

    def __init__(
        self, words: Sequence[str], definition: Definition, workload: Workload, own: bool
    ) -> None:
        """`own`: of a run of the person's own, whose knobs may be named."""
        self._words = list(words)
        self._definition = definition
        self._workload = workload
        self._own = own
        self._nouns = nouns_of(definition, workload)
        self._of_actual = False
        self._told = Told()

    def answer(self, free: Mapping[str, str]) -> Answer:
        """What all words come to; `free`: a note, and what was seen.

        Raises:
            InputError: a word without place, or words that do not go together.
        """
        while self._words:
            self._take_one()
        if self._told.outcome is None:
            raise InputError("how did it end? Expected an outcome too: pass, crash or another")
        if self._of_actual and "actual" not in self._told.facts:
            raise InputError("actual: expected a knob and what it really ran at")
        for name, text in free.items():
            self._told.put(name, text)
        return fitted(self._told, self._workload, self._own)

    def _take_one(self) -> None:
        word = self._words[0]
        folded = word.casefold()
        if "=" in word:
            name, _, value = self._words.pop(0).partition("=")
            self._give(name, value)
        elif (time := self._duration()) is not None:
            self._told.durations.append(time)
        elif folded in OUTCOMES:
            self._words.pop(0)
            self._told.set_outcome(OUTCOMES[folded])
        elif _NUMBER.fullmatch(word):
            self._told.numbers.append(self._words.pop(0))
        elif not (self._take_word(folded) or self._take_named(word)):
            raise self._misplaced(word)

    def _take_word(self, folded: str) -> bool:
        """A word that stands for itself."""
        if folded == "actual":
            self._of_actual = True
        elif folded in ("cold", "warm"):
            self._told.put("boot", folded)
        elif folded in SEEN:
            self._told.seen.append(folded)
        elif not (folded in FILLERS or (self._own and folded == "as-is")):
            return False
        self._words.pop(0)
        return True

    def _take_named(self, word: str) -> bool:
        """A name, and what is given to it in the words after it."""
        if named(self._nouns, word) is None or len(self._words) < 2:
            return False
        self._words.pop(0)
        self._give(word, "" if self._duration_at_hand() else self._words.pop(0))
        return True

    def _give(self, name: str, value: str) -> None:
        noun = named(self._nouns, name)
        if noun is None:
            raise unknown(self._nouns, name)
        if noun.kind is Kind.FACT:
            self._give_fact(noun.name, value)
            return
        if not value:
            raise InputError(f"{name}: expected a value after it")
        value += self._unit(value, noun)
        if noun.kind is Kind.KNOB:
            self._give_knob(noun, value)
        else:
            fact = "readings" if noun.kind is Kind.READING else "subscores"
            self._told.put_in(fact, noun.name, parse_number(value, noun.unit, noun.name))

    def _give_knob(self, noun: Noun, value: str) -> None:
        if not (self._own or self._of_actual):
            raise InputError(
                f"{noun.name}={value}: an answer is of the setting that was asked for. If the"
                f" firmware did otherwise: actual {noun.name}={value}. If you set something else:"
                f" own {noun.name}={value} and how that ended"
            )
        what = "actual" if self._of_actual else "settings"
        given = knob_values(self._definition, what, {noun.name: value})
        self._told.put_in(what, noun.name, given[noun.name])

    def _give_fact(self, name: str, value: str) -> None:
        self._told.put(FACTS[name], self._fact(name, value))

    def _fact(self, name: str, value: str) -> Any:
        fact = FACTS[name]
        if fact in ("failed_after_s", "run_minutes", "minutes"):
            return self._time(name, fact, value)
        if fact in ("score", "errors"):
            return parse_number(value, "", name)
        if fact == "capped" and value.casefold() not in tuple(Capped):
            raise InputError(f"capped {value}: expected one of {', '.join(Capped)}")
        return value if fact == "suspect" else value.casefold()

    def _time(self, name: str, fact: str, value: str) -> float:
        if value:
            self._words.insert(0, value)
        if (seconds := self._duration()) is not None:
            return float(seconds if fact == "failed_after_s" else seconds / 60)
        if name in _IN_MINUTES and value and _NUMBER.fullmatch(value):
            return float(self._words.pop(0))
        raise InputError(f"{name} {value}: expected a time with its unit, as 85s or 1.5min")

    def _duration(self) -> Decimal | None:
        """The time that stands next, taken; None where none does."""
        found = duration_in(self._words)
        if found is None:
            return None
        del self._words[: found[1]]
        return found[0]

    def _duration_at_hand(self) -> bool:
        return duration_in(self._words) is not None

    def _unit(self, value: str, noun: Noun) -> str:
        """The unit that stands apart from its number, taken."""
        word = self._words[0] if self._words else ""
        if not (word and noun.unit and _NUMBER.fullmatch(value)) or word[0].isdigit():
            return ""
        # One letter may be an outcome too: 1.2 V is volts, 1.2 v is a void run at 1.2.
        if (len(word) == 1 and word.islower() and word != noun.unit) or (
            conversion(word, noun.unit) is None
        ):
            return ""
        return self._words.pop(0)

    def _misplaced(self, word: str) -> InputError:
        if re.fullmatch(r"[0-9]+,[0-9]+", word):
            return InputError(f"{word!r}: write a decimal point, not a comma")
        if named(self._nouns, word) is not None:
            return InputError(f"{word}: expected a value after it")
        return InputError(
            f"{word!r} is not understood. What you saw: saw {word}. Anything else: note {word}"
        )
