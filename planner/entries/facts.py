"""What a person may say of a run: each fact is checked here, and facts against each other."""

import difflib
from collections.abc import Mapping
from typing import Any

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.outcome import Capped, Outcome
from planner.domain.quantity import parse_number
from planner.errors import InputError, RecordError
from planner.history import History

WEEK = 10_080.0
_ABSURD = 1e12
_OUT_OF_LINE = 100.0
"""A score this many times off the median of the earlier ones is taken for a slip."""
_TEXTS = {"symptom": 80, "suspect": 60, "note": 1000, "origin": 300}
"""Longest text of each free field."""


def checked_facts(history: History, workload: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """The facts of a run as plain JSON values; absent ones (None) are left out.

    Raises:
        RecordError: naming the fact, its value and what was expected.
    """
    definition = history.definition
    facts: dict[str, Any] = {}
    for name, value in given.items():
        if name not in _CHECKS:
            raise RecordError(
                f"{name!r} is no fact of a run, expected one of " + ", ".join(_CHECKS)
            )
        if value is not None:
            try:
                facts[name] = _CHECKS[name](definition, name, value)
            except RecordError:
                raise
            except InputError as error:
                raise RecordError(str(error)) from None
    _check_score(history, workload, facts.get("score"))
    return facts


def parse_outcome(given: object) -> Outcome:
    """The outcome named.

    Raises:
        RecordError: not one of the outcomes.
    """
    try:
        return Outcome(str(given))
    except ValueError:
        raise RecordError(f"outcome = {given!r}: expected one of " + ", ".join(Outcome)) from None


def check_consistent(outcome: Outcome, run_minutes: float, facts: Mapping[str, Any]) -> None:
    """Raises RecordError where facts contradict the outcome."""
    failed_after, errors = facts.get("failed_after_s"), facts.get("errors")
    if failed_after is not None:
        if not outcome.failed:
            raise RecordError(f"failed_after_s = {failed_after:g}: a {outcome} has not failed")
        if failed_after > run_minutes * 60 * 1.1 + 60:
            raise RecordError(
                f"failed_after_s = {failed_after:g}: expected at most the run's"
                f" {run_minutes:g} minutes ({run_minutes * 60:g} s)"
            )
    if outcome is Outcome.ERRORS and not errors:
        raise RecordError("outcome errors: expected their count, errors = 1 or more")
    if errors and outcome.held:
        raise RecordError(f"errors = {errors}: a {outcome} has none; record the outcome errors")
    if facts.get("score") is not None and outcome.restarts:
        raise RecordError(f"score = {facts['score']:g}: a {outcome} has no score")


def contradicted(outcome: Outcome) -> tuple[str, ...]:
    """The facts that a run of this outcome cannot have, cleared when it is amended to it."""
    gone = [] if outcome.failed else ["failed_after_s"]
    if outcome is not Outcome.ERRORS:
        gone.append("errors")
    if outcome.restarts:
        gone += ["score", "subscores", "capped"]
    return tuple(gone)


def knob_values(definition: Definition, what: str, given: object) -> dict[str, Value]:
    """Values of the knobs named, on or off their steps."""
    if not isinstance(given, Mapping):
        raise RecordError(f"{what} = {given!r}: expected values by knob name")
    values: dict[str, Value] = {}
    for name, value in given.items():
        knob = definition.knobs.get(name)
        if knob is None:
            raise RecordError(
                f"{what}: {name!r} is no knob of this study, expected one of "
                + ", ".join(definition.knobs)
            )
        if knob.grid is not None:
            number = values[name] = parse_number(value, knob.unit, f"{what}: {name}")
            if knob.whole and number != int(number):
                raise RecordError(f"{what}: {name} = {value!r}: expected whole {knob.unit}")
        elif (chosen := knob.choice(value)) is not None:
            values[name] = chosen
        else:
            raise RecordError(f"{what}: {name} = {value!r}: expected {knob.describe_values()}")
    return values


def group_names(definition: Definition) -> list[str]:
    """All groups that tables or knobs name."""
    named = {knob.group for knob in definition.knobs.values() if knob.group}
    return sorted(named | {*definition.groups})


def _settings(definition: Definition, what: str, given: Any) -> dict[str, Value]:
    return knob_values(definition, what, given)


def _minutes(definition: Definition, what: str, given: Any) -> float:
    value = parse_number(given, "min", what)
    if not 0 <= value <= WEEK:
        raise RecordError(f"{what} = {value:g}: expected 0 to {WEEK:g} minutes (a week)")
    return value


def _run_minutes(definition: Definition, what: str, given: Any) -> float:
    value = _minutes(definition, what, given)
    if value == 0:
        raise RecordError(f"{what} = 0: expected how long it ran, in minutes")
    return value


def _seconds(definition: Definition, what: str, given: Any) -> float:
    value = parse_number(given, "s", what)
    if not 0 <= value <= WEEK * 60:
        raise RecordError(f"{what} = {value:g}: expected seconds since the run's start, from 0")
    return value


def _count(definition: Definition, what: str, given: Any) -> int:
    value = parse_number(given, "", what)
    if value < 0 or value != int(value) or value > _ABSURD:
        raise RecordError(f"{what} = {value:g}: expected a whole number from 0")
    return int(value)


def _score(definition: Definition, what: str, given: Any) -> float:
    value = parse_number(given, "", what)
    if not 0 <= value < _ABSURD:
        raise RecordError(f"{what} = {value:g}: expected a score from 0 to under {_ABSURD:g}")
    return value


def _subscores(definition: Definition, what: str, given: Any) -> dict[str, float]:
    known = [name for w in definition.workloads.values() for name, _ in w.subscores]
    return {
        name: _score(definition, f"{what}: {name}", value)
        for name, value in _named_numbers(what, given, known).items()
    }


def _readings(definition: Definition, what: str, given: Any) -> dict[str, float]:
    units = {name: reading.unit for name, reading in definition.readings.items()}
    return {
        name: parse_number(value, units.get(name, ""), f"{what}: {name}")
        for name, value in _named_numbers(what, given, list(units)).items()
    }


def _named_numbers(what: str, given: object, known: list[str]) -> Mapping[str, Any]:
    if not isinstance(given, Mapping):
        raise RecordError(f"{what} = {given!r}: expected numbers by name")
    for name in given:
        if name in known:
            continue
        if not isinstance(name, str) or not name.isidentifier() or len(name) > 40:
            raise RecordError(f"{what}: {name!r}: expected a name of letters, digits and _")
        # An unknown name is kept, but a slip of the pen would lose a stop.
        if known and (close := difflib.get_close_matches(name, known, n=1)):
            raise RecordError(f"{what}: {name!r} is not in the study, did you mean {close[0]!r}?")
    return given


def _capped(definition: Definition, what: str, given: Any) -> str:
    if given not in tuple(Capped):
        raise RecordError(f"{what} = {given!r}: expected one of " + ", ".join(Capped))
    return str(given)


def _text(definition: Definition, what: str, given: Any) -> str:
    longest = _TEXTS[what]
    if not isinstance(given, str) or len(given) > longest or not given.isprintable():
        raise RecordError(f"{what} = {given!r}: expected at most {longest} printable characters")
    return given


def _suspect(definition: Definition, what: str, given: Any) -> str:
    known = [*definition.knobs, *group_names(definition)]
    if given not in known:
        raise RecordError(f"{what} = {given!r}: expected a knob or group: " + ", ".join(known))
    return str(given)


def _boot(definition: Definition, what: str, given: Any) -> str:
    if given not in ("cold", "warm"):
        raise RecordError(f"{what} = {given!r}: expected cold or warm")
    return str(given)


def _workload(definition: Definition, what: str, given: Any) -> str:
    if given not in definition.workloads:
        known = ", ".join(definition.workloads)
        raise RecordError(f"{what} = {given!r}: expected one of {known}")
    return str(given)


def _check_score(history: History, workload: str, score: float | None) -> None:
    if not score:  # most runs have none, and there may be thousands of earlier ones to look at
        return
    earlier = sorted(
        r.score for r in history.runs if r.score and r.workload == workload and r.best_score
    )
    if not earlier:
        return
    middle = earlier[len(earlier) // 2]
    if not middle / _OUT_OF_LINE <= score <= middle * _OUT_OF_LINE:
        raise RecordError(
            f"score = {score:g}: earlier runs of {workload} scored about {middle:g}; expected"
            " within a hundredfold (if its scale has changed, give the workload a new name)"
        )


_CHECKS = {
    "settings": _settings,
    "actual": _settings,
    "workload": _workload,
    "run_minutes": _run_minutes,
    "minutes": _minutes,
    "failed_after_s": _seconds,
    "errors": _count,
    "score": _score,
    "subscores": _subscores,
    "readings": _readings,
    "capped": _capped,
    "symptom": _text,
    "suspect": _suspect,
    "note": _text,
    "boot": _boot,
    "origin": _text,
}
