"""Whether the values of an entry are of the kinds that everything after the replay reckons with.

A ledger from a stranger can have the right chain and anything in its bodies.
"""

from collections.abc import Mapping
from typing import Any

from planner.domain.definition import Definition
from planner.domain.knob import Setting

_WHOLE: frozenset[type] = frozenset({int})
_NUMBER: frozenset[type] = frozenset({int, float})
_MAYBE: frozenset[type] = frozenset({int, float, type(None)})
_WORD: frozenset[type] = frozenset({str})
_TEXT: frozenset[type] = frozenset({str, type(None)})
_SCALAR: frozenset[type] = frozenset({str, int, float})
_RUN = {
    "run": _WHOLE,
    "workload": _WORD,
    "run_minutes": _NUMBER,
    "minutes": _MAYBE,
    "failed_after_s": _MAYBE,
    "errors": _MAYBE,
    "score": _MAYBE,
    "symptom": _TEXT,
    "suspect": _TEXT,
    "note": _TEXT,
    "origin": _TEXT,
}
_PROPOSAL = {
    "run": _WHOLE,
    "workload": _WORD,
    "run_minutes": _NUMBER,
    "reason": _WORD,
    "pass_probability": _NUMBER,
    "minutes": _NUMBER,
    "start_when": _TEXT,
    "boot_mark": _TEXT,
    "taken_from": _TEXT,
}
_TERMS = {"start": _WHOLE, "max_changes": _WHOLE}
_MOST = 1e15
"""No figure that may be recorded is larger (1e12); squares of far larger ones overflow."""


def check_run(facts: Mapping[str, Any]) -> None:
    """Raises TypeError or ValueError, naming the key, if a run's facts cannot be reckoned with."""
    _check(facts, _RUN)
    for table in ("readings", "subscores"):
        if told := facts.get(table):
            for name, value in told.items():
                _check_number(f"{table}: {name}", value)


def check_proposal(definition: Definition, body: Mapping[str, Any]) -> None:
    """Raises TypeError or ValueError if a proposal cannot be shown or weighed."""
    _check(body, _PROPOSAL)
    check_setting(definition, body["settings"])
    if not all(name.__class__ is str for name in body.get("at_own_risk", ())):
        raise TypeError("at_own_risk: expected names")
    if terms := body.get("terms"):
        _check(terms, _TERMS)


def check_setting(definition: Definition, setting: Setting) -> None:
    """Raises TypeError or ValueError if a value of a knob is not of its kind."""
    for name, knob in definition.knobs.items():
        if name in setting:
            value = setting[name]
            if knob.grid is not None:
                _check_number(name, value)
            elif value.__class__ not in _SCALAR:
                raise TypeError(f"{name} = {str(value)[:40]!r}: expected a choice")


def _check(facts: Mapping[str, Any], kinds: Mapping[str, frozenset[type]]) -> None:
    """Those that are there; the replay itself misses those that are not."""
    for name, value in facts.items():
        kind = value.__class__
        allowed = kinds.get(name)
        if allowed is None:
            continue
        if kind not in allowed:
            raise TypeError(f"{name} = {str(value)[:40]!r}: is of the wrong kind")
        if kind in _NUMBER and not 0 <= value <= _MOST:
            raise ValueError(f"{name} = {value}: expected a number from 0 to {_MOST:g}")


def _check_number(name: str, value: object) -> None:
    if value.__class__ not in _NUMBER:
        raise TypeError(f"{name} = {str(value)[:40]!r}: expected a number")
