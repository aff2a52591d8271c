"""From what a person says of a run to the body of the entry that records or amends it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from planner.domain.outcome import Outcome
from planner.domain.run import Proposal, Run
from planner.entries.facts import (
    check_consistent,
    checked_facts,
    contradicted,
    knob_values,
    parse_outcome,
)
from planner.errors import RecordError
from planner.history import History


def run_entry(
    history: History, bench: str, outcome: str, number: int | None, given: Mapping[str, Any]
) -> dict[str, Any]:
    """The body of a `run` entry: an answer to a pending proposal, or the person's own run.

    Raises:
        RecordError: nothing is pending, the run is on record already, or a fact cannot be.
    """
    parsed = parse_outcome(outcome)
    answered = _answered(history, bench, number, given)
    asked = answered.workload if answered else history.definition.workload.name
    workload = given.get("workload") or asked
    facts = checked_facts(history, workload, given)
    facts["workload"] = workload
    if "run_minutes" not in facts:
        facts["run_minutes"] = _usual_length(history, answered, workload, parsed)
    check_consistent(parsed, facts["run_minutes"], facts)
    if answered is None:
        return {"run": history.next_number, "outcome": parsed.value, **facts}
    facts["settings"] = {**answered.settings, **facts.get("settings", {})}
    return {"run": answered.number, "outcome": parsed.value, **facts}


def amend_entry(history: History, number: int, given: Mapping[str, Any]) -> dict[str, Any]:
    """The body of an `amended` entry; a fact given as None is taken back.

    Raises:
        RecordError: no such run, nothing to amend, or a fact that cannot be.
    """
    run = history.by_number.get(number)
    if run is None:
        known = ", ".join(str(n) for n in list(history.by_number)[-5:]) or "none yet"
        raise RecordError(f"run = {number!r}: is not on record, expected one of {known}")
    if not given:
        raise RecordError(f"run {number}: nothing to amend was given")
    outcome = parse_outcome(given.get("outcome", run.outcome))
    rest = {name: value for name, value in given.items() if name != "outcome"}
    workload = rest.get("workload") or run.workload
    facts = checked_facts(_without(history, run), workload, rest)
    body: dict[str, Any] = {name: facts.get(name) for name in rest}
    if "outcome" in given:
        body["outcome"] = outcome.value
        body |= {name: None for name in contradicted(outcome) if name not in facts}
    for kept in ("workload", "run_minutes"):
        if kept in body and body[kept] is None:
            raise RecordError(f"{kept}: a run needs one, expected a value")
    if outcome is Outcome.STOPPED and run.outcome is not outcome and "run_minutes" not in facts:
        raise RecordError("outcome stopped: expected run_minutes, how long it had held")
    check_consistent(outcome, facts.get("run_minutes", run.run_minutes), _merged(run, body))
    return {"run": number, **body}


def _answered(
    history: History, bench: str, number: int | None, given: Mapping[str, Any]
) -> Proposal | None:
    """The pending proposal that this run answers; None for the person's own run."""
    pending = history.pending.get(bench)
    if number is not None:
        return _named(history, number)
    if given.get("settings") is None:
        if pending is None:
            for taken in history.pending.values():
                if taken.taken_from == bench:
                    raise RecordError(
                        f"run {taken.number} was taken over by {taken.bench}, as it was not"
                        f" answered: tell it with number = {taken.number}, unless {taken.bench}"
                        " runs it now"
                    )
            raise RecordError(
                "nothing is pending: ask for the next setting first, or name what was set to"
                " record a run of your own"
            )
        return pending
    if pending is None or given.get("workload") not in (None, pending.workload):
        return None
    named = knob_values(history.definition, "settings", given["settings"])
    return pending if {**history.machine, **named} == pending.settings else None


def _named(history: History, number: int) -> Proposal:
    for pending in history.pending.values():
        if pending.number == number:
            return pending
    if (run := history.by_number.get(number)) is not None:
        raise RecordError(
            f"number = {number}: run {number} is on record as {run.outcome}; amend it"
        )
    waiting = ", ".join(str(p.number) for p in history.pending.values()) or "none"
    raise RecordError(f"number = {number!r}: is not pending, expected one of: {waiting}")


def _usual_length(
    history: History, answered: Proposal | None, workload: str, outcome: Outcome
) -> float:
    if outcome is Outcome.STOPPED:
        raise RecordError("outcome stopped: expected run_minutes, how long it had held")
    if answered is not None and answered.workload == workload:
        return answered.run_minutes
    return history.definition.workloads[workload].minutes


def _without(history: History, run: Run) -> History:
    """The history without the run: its own score must not vouch for itself."""
    return replace(history, runs=tuple(r for r in history.runs if r.number != run.number))


def _merged(run: Run, body: Mapping[str, Any]) -> dict[str, Any]:
    before = {"failed_after_s": run.failed_after_s, "errors": run.errors, "score": run.score}
    return before | {name: body[name] for name in before if name in body}
