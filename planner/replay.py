"""From events to history: a pure fold, replayed anew whenever the ledger has grown.

Amendments are merged into the runs they mend before anything is derived from them, so a
ledger with an amended run gives the history of one that was recorded right at first, and a
voided run leaves no trace but its entry.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from planner.domain.definition import Definition
from planner.domain.dialling import (
    after_restart,
    after_run,
    dial_minutes,
    recovery_minutes,
    run_minutes_spent,
)
from planner.domain.event import Event, Kind
from planner.domain.knob import Setting
from planner.domain.outcome import Capped, Outcome
from planner.domain.parse import parse_text
from planner.domain.run import Proposal, Run
from planner.errors import LedgerDamaged, PlannerError
from planner.history import Changed, History

_parse = lru_cache(maxsize=256)(parse_text)
"""Definitions are frozen and read again at every fold."""


def fold(events: Sequence[Event], source: str = "study.toml") -> History:
    """The history that the events tell; the first must define the study.

    Raises:
        LedgerDamaged: an event whose body is not what its kind calls for.
    """
    state = _State(_amendments(events), source)
    for event in events:
        try:
            _STEPS[event.kind](state, event)
        except (KeyError, TypeError, ValueError, IndexError) as error:
            raise LedgerDamaged(
                f"ledger entry {event.seq} ({event.kind}) cannot be understood: {error!r}"
            ) from None
        except PlannerError as error:
            raise LedgerDamaged(f"ledger entry {event.seq} ({event.kind}): {error}") from None
    if not state.definitions:
        raise LedgerDamaged("the ledger does not begin with a definition of the study")
    return state.history()


def _amendments(events: Iterable[Event]) -> dict[int, list[Mapping[str, Any]]]:
    amendments: dict[int, list[Mapping[str, Any]]] = {}
    for event in events:
        if event.kind is Kind.AMENDED:
            amendments.setdefault(event.body["run"], []).append(event.body)
    return amendments


class _State:
    """Scratch for one fold."""

    def __init__(self, amendments: dict[int, list[Mapping[str, Any]]], source: str) -> None:
        self.amendments = amendments
        self.source = source
        self.definitions: list[Definition] = []
        self.runs: list[Run] = []
        self.open: dict[int, Proposal] = {}
        self.accepted: dict[str, float] = {}
        self.machine: Setting = {}
        self.restarting = False
        self.boot = 1
        self.cold = False
        self.changes: list[Changed] = []
        self.closed = ""
        self.reopened = False
        self.verdict = ""
        self.number = 1

    def history(self) -> History:
        return History(
            definitions=tuple(self.definitions),
            runs=tuple(self._completed()),
            pending={p.bench: self._complete(p) for p in self.open.values()},
            accepted=self.accepted,
            machine=self.machine,
            restarting=self.restarting,
            boot=self.boot,
            boot_is_cold=self.cold,
            changes=tuple(self.changes),
            closed=self.closed,
            reopened=self.reopened,
            verdict=self.verdict,
            next_number=self.number,
        )

    def _completed(self) -> Iterable[Run]:
        """A knob that was added later ran at its stock value before."""
        if len(self.definitions) == 1:
            return self.runs
        stock = self.definitions[-1].stock
        return (
            run
            if stock.keys() <= run.settings.keys()
            else replace(run, settings={**stock, **run.settings}, ran={**stock, **run.ran})
            for run in self.runs
        )

    def _complete(self, proposal: Proposal) -> Proposal:
        return replace(proposal, settings={**self.definitions[-1].stock, **proposal.settings})

    def restart(self, cold: bool) -> None:
        self.boot += 1
        self.cold = cold


def _defined(state: _State, event: Event) -> None:
    state.definitions.append(_parse(event.body["text"], state.source))
    state.machine = {**state.definitions[-1].stock, **state.machine}
    state.reopened = False


def _proposed(state: _State, event: Event) -> None:
    body = event.body
    proposal = Proposal(
        number=body["run"],
        settings=dict(body["settings"]),
        workload=body["workload"],
        run_minutes=body["run_minutes"],
        reason=body["reason"],
        pass_probability=body["pass_probability"],
        minutes=body["minutes"],
        start_when=body.get("start_when", ""),
        at_own_risk=tuple(body.get("at_own_risk", ())),
        bench=event.bench,
        boot_mark=body.get("boot_mark", ""),
        time=event.time,
    )
    state.open[proposal.number] = proposal
    state.number = max(state.number, proposal.number + 1)


def _withdrawn(state: _State, event: Event) -> None:
    state.open.pop(event.body["run"], None)


def _ran(state: _State, event: Event) -> None:
    number = event.body["run"]
    facts: dict[str, Any] = dict(event.body)
    amendments = state.amendments.get(number, ())
    for amendment in amendments:
        facts.update(amendment)
    proposal = state.open.pop(number, None)
    state.number = max(state.number, number + 1)
    outcome = Outcome(facts["outcome"])
    if outcome is not Outcome.VOID and facts.get("boot"):
        state.restart(facts["boot"] == "cold")
    run = _run(state, event, facts, proposal, len(amendments))
    state.runs.append(run)
    if outcome is not Outcome.VOID:
        state.machine = after_run(state.definitions[-1], outcome, run.settings)
        state.restarting = outcome.restarts
        if outcome.restarts:
            # Power was off, or had to be cut to get past a failure to start.
            state.restart(cold=outcome is not Outcome.CRASH)


def _run(
    state: _State, event: Event, facts: dict[str, Any], proposal: Proposal | None, amended: int
) -> Run:
    definition = state.definitions[-1]
    base = state.machine if proposal is None else {**definition.stock, **proposal.settings}
    settings = {**base, **(facts.get("settings") or {})}
    outcome = Outcome(facts["outcome"])
    spent = run_minutes_spent(outcome, facts["run_minutes"], facts.get("failed_after_s"))
    dial = dial_minutes(definition, state.machine, settings, state.restarting)
    usual = dial + spent + recovery_minutes(definition, outcome)
    minutes = facts.get("minutes")
    return Run(
        number=facts["run"],
        outcome=outcome,
        settings=settings,
        ran={**settings, **(facts.get("actual") or {})},
        workload=facts["workload"],
        run_minutes=facts["run_minutes"],
        minutes=usual if minutes is None else minutes,
        usual_minutes=usual,
        dialled=settings != state.machine,
        failed_after_s=facts.get("failed_after_s"),
        errors=facts.get("errors"),
        score=facts.get("score"),
        subscores=facts.get("subscores") or {},
        readings=facts.get("readings") or {},
        capped=Capped(facts["capped"]) if facts.get("capped") else None,
        symptom=facts.get("symptom") or "",
        suspect=facts.get("suspect") or "",
        note=facts.get("note") or "",
        boot=state.boot,
        cold=state.cold,
        definition=len(state.definitions) - 1,
        proposal=proposal,
        bench=event.bench,
        time=event.time,
        amended=amended,
        epoch=len(state.changes),
    )


def _accepted(state: _State, event: Event) -> None:
    state.accepted = {**state.accepted, event.body["name"]: event.body["up_to"]}


def _booted(state: _State, event: Event) -> None:
    state.restart(bool(event.body["cold"]))
    state.machine = after_restart(state.definitions[-1], state.machine)


def _changed(state: _State, event: Event) -> None:
    state.changes.append(Changed(event.body["what"], tuple(event.body.get("groups", ()))))
    state.reopened = False


def _closed(state: _State, event: Event) -> None:
    state.verdict = event.body["reason"]
    if event.body["by"] == "person":
        state.closed = event.body["reason"]


def _reopened(state: _State, event: Event) -> None:
    state.closed = ""
    state.reopened = True


def _noted(state: _State, event: Event) -> None:
    """Amendments are merged beforehand; notes are for people."""


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
