"""From how a workload ended to what is recorded of it."""

import json
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planner.domain.launch import Judging, Launch
from planner.domain.outcome import Outcome
from planner.drive.process import signal_name

LARGEST_FILE = 1_000_000
"""Bytes of a result file that are read."""
_FAULTS = ("SIGILL", "SIGABRT", "SIGBUS", "SIGFPE", "SIGSEGV", "SIGTRAP", "SIGSYS")
"""What a fault of the machine raises. Any other signal came from outside, as SIGKILL does from a
system that is out of memory, and says nothing about the setting."""
_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a run came to."""

    outcome: Outcome
    facts: Mapping[str, Any] = field(default_factory=dict)
    """As `Study.record` takes them."""
    why: str = ""
    """For people: what decided it."""


@dataclass(frozen=True, slots=True)
class Ended:
    """How the workload ended."""

    status: int | None
    """Exit status, or the negative number of a signal; None: it was ended by the planner."""
    seconds: float
    found: Mapping[str, str] = field(default_factory=dict)
    """Matches in its output: `score`, `errors`, `wrong`, and `sub NAME` for parts."""
    overdue: bool = False
    """It ran past its limit."""


def patterns(judging: Judging) -> dict[str, str]:
    """The regular expressions to look for, by the name under which `Ended` has them."""
    named = {"score": judging.score, "errors": judging.errors, "wrong": judging.wrong}
    named |= {f"sub {name}": pattern for name, pattern in judging.subscores.items()}
    return {name: pattern for name, pattern in named.items() if pattern}


def judged(launch: Launch, ended: Ended, result: Path | None) -> Verdict:
    """What a run came to by itself; `result`: the file that the workload writes, if any."""
    verdict = _by_status(launch, ended)
    if verdict.outcome is Outcome.CRASH or verdict.facts.get("final"):
        return _tidy(verdict)
    if result is not None:
        verdict = _with_file(verdict, result, ended.status is not None)
    return _tidy(_with_output(verdict, ended))


def _by_status(launch: Launch, ended: Ended) -> Verdict:
    status, after = ended.status, {"failed_after_s": ended.seconds}
    if ended.overdue and not launch.until_stopped:
        return Verdict(Outcome.CRASH, {}, f"hung: still ran after {ended.seconds:.0f} s")
    if status is None:
        return Verdict(Outcome.PASS, {"ran_s": ended.seconds})
    if status < 0:
        name = signal_name(-status)
        if name in _FAULTS:
            return Verdict(Outcome.CRASH, after, f"the workload died of {name}")
        return Verdict(Outcome.VOID, {"final": True}, f"ended from outside, by {name}")
    outcome = launch.judging.exits.get(status, Outcome.WRONG_RESULT)
    why = "" if outcome is Outcome.PASS else f"exit status {status}"
    if outcome is Outcome.PASS and (ended.seconds < launch.least_s or launch.until_stopped):
        early = f"it ended after {ended.seconds:.1f} s by itself, too soon to say anything"
        return Verdict(Outcome.VOID, {"final": True}, early)
    if outcome is Outcome.PASS:
        return Verdict(outcome, {"ran_s": ended.seconds})
    return Verdict(outcome, after if outcome.failed else {}, why)


def _with_output(verdict: Verdict, ended: Ended) -> Verdict:
    facts, outcome, why = dict(verdict.facts), verdict.outcome, verdict.why
    found = {name: _number(text) for name, text in ended.found.items() if name != "wrong"}
    for name, number in found.items():
        if number is None:
            continue
        if name.startswith("sub "):
            facts["subscores"] = {**facts.get("subscores", {}), name[4:]: number}
        else:
            facts.setdefault(name, number)
    if facts.get("errors") and outcome.held:
        outcome, why = Outcome.ERRORS, f"{facts['errors']:g} errors were counted"
    if "wrong" in ended.found and (outcome.held or outcome is Outcome.ERRORS):
        outcome, why = Outcome.WRONG_RESULT, f"it printed {ended.found['wrong'][:60]!r}"
    return Verdict(outcome, facts, why)


def _with_file(verdict: Verdict, path: Path, must: bool) -> Verdict:
    """`must`: whether the workload ended by itself, so that its result must be there."""
    try:
        told = _read(path)
    except FileNotFoundError:
        if not must or verdict.outcome is not Outcome.PASS:
            return verdict
        return Verdict(Outcome.VOID, {}, f"it left no {path.name}")
    except (OSError, ValueError, RecursionError) as error:
        if verdict.outcome is not Outcome.PASS:
            return verdict
        return Verdict(Outcome.WRONG_RESULT, {}, f"{path.name} is no result: {str(error)[:80]}")
    facts, why = {**verdict.facts}, verdict.why
    outcome = Outcome(told["outcome"]) if "outcome" in told else verdict.outcome
    if "outcome" in told and outcome is not verdict.outcome:
        why = f"{path.name} says so"
    facts |= {name: told[name] for name in _CHECKS if name in told and name != "outcome"}
    return Verdict(outcome, facts, why)


def _read(path: Path) -> dict[str, Any]:
    if path.stat().st_size > LARGEST_FILE:
        raise ValueError(f"larger than {LARGEST_FILE} bytes")
    told = json.loads(path.read_bytes(), parse_constant=_refuse)
    if not isinstance(told, dict):
        raise ValueError("not one table")
    for name, check in _CHECKS.items():
        if name in told and not check(told[name]):
            raise ValueError(f"its {name} is {str(told[name])[:40]!r}")
    return told


def _tidy(verdict: Verdict) -> Verdict:
    """Without what this outcome cannot have."""
    facts = {name: value for name, value in verdict.facts.items() if name != "final"}
    if not verdict.outcome.failed:
        facts.pop("failed_after_s", None)
    if verdict.outcome is not Outcome.PASS:
        facts.pop("ran_s", None)
    if verdict.outcome is not Outcome.ERRORS:
        facts.pop("errors", None)
    elif not facts.get("errors"):
        facts["errors"] = 1  # it says that there were errors, not how many
    if verdict.outcome.restarts or verdict.outcome is Outcome.VOID:
        facts.pop("score", None)
        facts.pop("subscores", None)
    return Verdict(verdict.outcome, facts, verdict.why)


def _number(text: str) -> float | None:
    match = _NUMBER.fullmatch(text.strip())
    value = float(match[0]) if match else math.nan
    return value if math.isfinite(value) else None


def _is_outcome(value: object) -> bool:
    return isinstance(value, str) and value in tuple(Outcome)


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _is_number(value: object) -> bool:
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        return False
    return abs(value) < 1e15


def _are_numbers(value: object) -> bool:
    return isinstance(value, dict) and len(value) <= 100 and all(map(_is_number, value.values()))


def _refuse(constant: str) -> Any:
    raise ValueError(f"{constant} in it")


_CHECKS: Mapping[str, Callable[[object], bool]] = {
    "outcome": _is_outcome,
    "score": _is_number,
    "errors": _is_number,
    "subscores": _are_numbers,
    "readings": _are_numbers,
    "note": _is_text,
}
