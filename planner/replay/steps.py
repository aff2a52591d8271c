"""What each kind of entry does to the state of a fold."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from planner.domain.dialling import (
    after_restart,
    after_run,
    dial_minutes,
    recovery_minutes,
    run_minutes_spent,
)
from planner.domain.event import Event, Kind
from planner.domain.outcome import Capped, Outcome
from planner.domain.parse import parse_text
from planner.domain.run import Run
from planner.history import Changed
from planner.replay.checks import check_run, check_setting
from planner.replay.state import MISUNDERSTOOD, Bench, State, damaged

_parse = lru_cache(maxsize=256)(parse_text)
"""Definitions are frozen and read again at every fold."""


def step(state: State, event: Event) -> None:
    """Let one entry take effect.

    Raises:
        LedgerDamaged: its body is not what its kind calls for.
    """
    state.told += event.kind in _TELLING
    try:
        _STEPS[event.kind](state, event)
    except MISUNDERSTOOD as error:
        raise damaged(event, error) from None


def amendments_in(events: Iterable[Event]) -> dict[int, list[Mapping[str, Any]]]:
    """The bodies of all amendments, by run, in order."""
    amendments: dict[int, list[Mapping[str, Any]]] = {}
    for event in events:
        if event.kind is Kind.AMENDED:
            try:
                amendments.setdefault(event.body["run"], []).append(event.body)
            except MISUNDERSTOOD as error:
                raise damaged(event, error) from None
    return amendments


def _defined(state: State, event: Event) -> None:
    state.definitions.append(_parse(event.body["text"], state.source))
    state.mark(event.kind)
    # Before the first run a changed stock value mends a slip; after it, it must be dialled in.
    stock = state.definitions[-1].stock
    for here in state.benches.values():
        held = here.machine if state.runs else {}
        here.machine = {name: held.get(name, value) for name, value in stock.items()}
    state.reopened = False


def _proposed(state: State, event: Event) -> None:
    number = event.body["run"]
    state.open[number] = event
    state.number = max(state.number, number + 1)


def _withdrawn(state: State, event: Event) -> None:
    state.open.pop(event.body["run"], None)


def _ran(state: State, event: Event) -> None:
    number = event.body["run"]
    facts = event.body
    for amendment in state.amendments.get(number, ()):
        facts = {**facts, **_merged(facts, amendment)}
    asked = state.open.pop(number, None)
    state.number = max(state.number, number + 1)
    outcome = _OUTCOMES[facts["outcome"]]
    # Another machine than the one under test may tell of it.
    here = state.at(event.bench if asked is None else asked.bench)
    if facts.get("boot") and outcome is not Outcome.VOID:
        state.restart(here, facts["boot"] == "cold")
        here.machine = after_restart(state.definitions[-1], here.machine)
    run = _run(state, here, event, facts, asked, outcome)
    state.runs.append(run)
    if outcome is not Outcome.VOID:
        here.machine = after_run(state.definitions[-1], outcome, run.settings)
        here.restarting = outcome.restarts
        if outcome.restarts:
            # Power was off, or had to be cut to get past a failure to start.
            state.restart(here, cold=outcome is not Outcome.CRASH)


def _merged(facts: Mapping[str, Any], amendment: Mapping[str, Any]) -> dict[str, Any]:
    """An amendment names the knobs that it mends; the others stay as told before."""
    partial = ("settings", "actual")
    return {
        name: {**(facts.get(name) or {}), **value}
        if name in partial and value is not None
        else value
        for name, value in amendment.items()
    }


def _run(
    state: State,
    here: Bench,
    event: Event,
    facts: Mapping[str, Any],
    asked: Event | None,
    outcome: Outcome,
) -> Run:
    check_run(facts)
    definition, told = state.definitions[-1], facts.get
    base, named, actual = here.machine, told("settings"), told("actual")
    if asked is not None:
        base = definition.stock if named else {**definition.stock, **asked.body["settings"]}
    settings = {**base, **named} if named else base
    ran = {**settings, **actual} if actual else settings
    if asked is not None or named or actual:
        check_setting(definition, settings)
    if actual:  # else it ran as set
        check_setting(definition, ran)
    dial = dial_minutes(definition, here.machine, settings, here.restarting)
    spent = run_minutes_spent(outcome, facts["run_minutes"], told("failed_after_s"))
    usual = dial + spent + recovery_minutes(definition, outcome)
    minutes = told("minutes")
    return Run(
        number=facts["run"],
        outcome=outcome,
        settings=settings,
        ran=ran,
        workload=facts["workload"],
        run_minutes=facts["run_minutes"],
        minutes=usual if minutes is None else minutes,
        usual_minutes=usual,
        dialled=settings != here.machine,
        failed_after_s=told("failed_after_s"),
        errors=told("errors"),
        score=told("score"),
        subscores=told("subscores") or {},
        readings=told("readings") or {},
        capped=Capped(facts["capped"]) if told("capped") else None,
        symptom=told("symptom") or "",
        suspect=told("suspect") or "",
        note=told("note") or "",
        boot=here.boot,
        cold=here.cold,
        boot_told=here.boot_told,
        definition=len(state.definitions) - 1,
        asked=asked,
        bench=event.bench,
        time=event.time,
        amended=len(state.amendments.get(facts["run"], ())),
        epoch=len(state.changes),
        origin=told("origin") or "",
    )


def _accepted(state: State, event: Event) -> None:
    name, up_to = event.body["name"], event.body["up_to"]
    state.accepted = {**state.accepted, name: up_to}
    state.mark(event.kind, name, up_to)


def _booted(state: State, event: Event) -> None:
    here = state.at(event.bench)
    state.restart(here, bool(event.body["cold"]))
    here.restarting = False
    here.machine = after_restart(state.definitions[-1], here.machine)


def _changed(state: State, event: Event) -> None:
    state.changes.append(Changed(event.body["what"], tuple(event.body.get("groups", ()))))
    state.mark(event.kind, event.body["what"])
    state.reopened = False


def _closed(state: State, event: Event) -> None:
    state.verdict = event.body["reason"]
    state.mark(event.kind, event.body["reason"])
    if event.body["by"] == "person":
        state.closed = event.body["reason"]


def _reopened(state: State, event: Event) -> None:
    state.closed = ""
    state.reopened = True
    state.mark(event.kind)


def _noted(state: State, event: Event) -> None:
    """Amendments are merged beforehand; notes are for people, but for values brought back."""
    if event.kind is Kind.NOTE and event.body.get("restored") is True:
        here = state.at(event.bench)
        here.machine = after_restart(state.definitions[-1], here.machine)


_OUTCOMES = {outcome.value: outcome for outcome in Outcome}
_TELLING = frozenset({Kind.DEFINED, Kind.RUN, Kind.AMENDED, Kind.ACCEPTED, Kind.CHANGED})
_STEPS = {
    Kind.DEFINED: _defined,
    Kind.PROPOSED: _proposed,
    Kind.WITHDRAWN: _withdrawn,
    Kind.RUN: _ran,
    Kind.AMENDED: _noted,
    Kind.ACCEPTED: _accepted,
    Kind.BOOT: _booted,
    Kind.CHANGED: _changed,
    Kind.CLOSED: _closed,
    Kind.REOPENED: _reopened,
    Kind.NOTE: _noted,
}
