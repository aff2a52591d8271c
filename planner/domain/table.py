"""Reads one table of a definition, key by key; every refusal names table, key and value."""

import difflib
import re
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import Any, TypeVar

from planner.domain.quantity import parse_number
from planner.errors import DefinitionError, InputError

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)
_NAME = re.compile(r"[^\W\d]\w{0,39}")
_LABEL = re.compile(r"\w[\w .+/()-]{0,59}")


class Table:
    """A mapping whose keys are taken one by one; what is left over at the end is unknown."""

    def __init__(self, given: Mapping[str, Any], where: str) -> None:
        """`where` opens every message, as `study.toml: [[knob]] core_clock`."""
        if not isinstance(given, Mapping):
            raise DefinitionError(f"{where} = {given!r}: expected a table")
        self._given = dict(given)
        self._known: list[str] = []
        self.where = where

    def take(self, key: str) -> Any:
        """The raw value of `key`, or None."""
        self._known.append(key)
        return self._given.pop(key, None)

    def peek(self, key: str) -> Any:
        """The raw value of `key` without taking it, or None."""
        return self._given.get(key)

    def fail(self, key: str, value: object, expected: str) -> DefinitionError:
        """The error to raise for a value of this table."""
        return DefinitionError(f"{self.where}: {key} = {_shown(value)}: expected {expected}")

    def checked(self, build: Callable[[], T]) -> T:
        """What `build` makes; its ValueError becomes an error of this table."""
        try:
            return build()
        except ValueError as error:
            raise DefinitionError(f"{self.where}: {error}") from None

    def missing(self, key: str) -> DefinitionError:
        """The error to raise for a key that must be there and is not."""
        close = difflib.get_close_matches(key, [str(k) for k in self._given], n=1)
        hint = f" (is {close[0]!r} meant for it?)" if close else ""
        return DefinitionError(f"{self.where}: {key} is missing{hint}")

    def required(self, key: str) -> Any:
        """The raw value of a key that must be there."""
        value = self.take(key)
        if value is None:
            raise self.missing(key)
        return value

    def number(self, key: str, unit: str = "", at_least: float | None = None) -> float | None:
        """A finite number in `unit`; None where the key is absent."""
        value = self.take(key)
        if value is None:
            return None
        number = self.to_number(key, value, unit)
        if at_least is not None and number < at_least:
            raise self.fail(key, value, f"at least {at_least:g}")
        return number

    def to_number(self, key: str, value: object, unit: str) -> float:
        """`value` as a finite number in `unit`."""
        try:
            return parse_number(value, unit, f"{self.where}: {key}")
        except InputError as error:
            raise DefinitionError(str(error)) from None

    def number_or(self, key: str, default: float, unit: str = "", at_least: float = 0.0) -> float:
        """A finite number in `unit`, or the default."""
        number = self.number(key, unit, at_least)
        return default if number is None else number

    def share_or(self, key: str, default: float) -> float:
        """A number from 0 to 1, or the default."""
        number = self.number_or(key, default)
        if number > 1:
            raise self.fail(key, number, "a number from 0 to 1")
        return number

    def whole_or(self, key: str, default: int, at_least: int, at_most: int = 2**53) -> int:
        """A whole number, or the default."""
        value = self.take(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int):
            raise self.fail(key, value, "a whole number")
        if not at_least <= value <= at_most:
            raise self.fail(key, value, f"a whole number from {at_least} to {at_most}")
        return value

    def flag_or(self, key: str, default: bool) -> bool:
        """True or false, or the default."""
        value = self.take(key)
        if value is not None and not isinstance(value, bool):
            raise self.fail(key, value, "true or false")
        return default if value is None else value

    def text_or(self, key: str, default: str = "", at_most: int = 80) -> str:
        """A short printable text, or the default."""
        value = self.take(key)
        if value is None:
            return default
        if not isinstance(value, str) or len(value) > at_most or not value.isprintable():
            raise self.fail(key, value, f"a text of at most {at_most} printable characters")
        return value

    def name(self, key: str = "name") -> str:
        """A required name that rules and commands can refer to."""
        value = self.required(key)
        if not isinstance(value, str) or not _NAME.fullmatch(value):
            raise self.fail(key, value, "letters, digits and _, not starting with a digit")
        self.where = f"{self.where} {value}"
        return value

    def label(self, key: str = "name") -> str:
        """A required name that is only shown and matched."""
        value = self.required(key)
        if not isinstance(value, str) or not _LABEL.fullmatch(value):
            raise self.fail(key, value, "a name of letters, digits, spaces and . + / ( ) - _")
        self.where = f"{self.where} {value}"
        return value

    def names(self, key: str) -> tuple[str, ...]:
        """A list of texts; empty where the key is absent."""
        value = self.take(key)
        if value is None:
            return ()
        if not isinstance(value, (list, tuple)) or not all(isinstance(v, str) for v in value):
            raise self.fail(key, value, "a list of names")
        if not all(v.isprintable() and 0 < len(v) <= 60 for v in value):
            raise self.fail(key, list(value), "names of at most 60 printable characters")
        if len(set(value)) != len(value):
            raise self.fail(key, list(value), "each name once")
        return tuple(value)

    def numbers(self, key: str, above: float = 0.0) -> tuple[tuple[str, float], ...]:
        """Names and numbers above `above`, of a table or of a bare list; empty where absent."""
        raw = self.take(key)
        if raw is None:
            return ()
        if isinstance(raw, (list, tuple)):
            raw = {str(value): value for value in raw}
        if not isinstance(raw, Mapping) or not raw:
            raise self.fail(key, raw, "names with numbers, as { mine = 2400 }, or a list of them")
        for name, value in raw.items():
            if not (str(name).isprintable() and 0 < len(str(name)) <= 60):
                raise self.fail(key, name, "names of at most 60 printable characters")
            if self.to_number(f"{key}: {name}", value, "") <= above:
                raise self.fail(f"{key}: {name}", value, f"a number above {above:g}")
        return tuple((str(n), self.to_number(f"{key}: {n}", v, "")) for n, v in raw.items())

    def pair(self, key: str, unit: str) -> tuple[float, float] | None:
        """Two numbers in `unit`, as [lower, upper]; None where the key is absent."""
        value = self.take(key)
        if value is None:
            return None
        if not isinstance(value, (list, tuple)) or len(value) != 2:
            raise self.fail(key, value, "two numbers, [lower, upper]")
        low, high = (self.to_number(key, v, unit) for v in value)
        return low, high

    def one_of(self, key: str, kinds: type[E], default: E) -> E:
        """A member of an enumeration, or the default."""
        value = self.take(key)
        if value is None:
            return default
        if value not in tuple(kinds):
            raise self.fail(key, value, "one of " + ", ".join(filter(None, kinds)))
        return kinds(value)

    def done(self) -> None:
        """Raises DefinitionError if a key is left that nobody asked for."""
        for key in self._given:
            close = difflib.get_close_matches(str(key), self._known, n=1)
            hint = f"did you mean {close[0]!r}?" if close else "known: " + ", ".join(self._known)
            raise DefinitionError(f"{self.where}: unknown key {_shown(key)} ({hint})")


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 80 else text[:77] + "..."
