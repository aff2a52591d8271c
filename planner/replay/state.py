"""What a fold holds while it runs, and the history that it comes to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from planner.domain.definition import Definition
from planner.domain.event import Event, Kind
from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.domain.run import Proposal, Run
from planner.domain.terms import terms_of
from planner.errors import LedgerDamaged, PlannerError
from planner.history import Changed, History, Milestone
from planner.replay.checks import check_proposal

MISUNDERSTOOD = (KeyError, TypeError, ValueError, IndexError, AttributeError, PlannerError)
"""What goes wrong where an entry's body is not what its kind calls for."""


def damaged(event: Event, error: Exception) -> LedgerDamaged:
    """The error to raise for an entry that cannot be understood."""
    what = str(error) if isinstance(error, PlannerError) else f"cannot be understood: {error!r}"
    return LedgerDamaged(f"ledger entry {event.seq} ({event.kind}): {what}")


def proposal_of(event: Event, definition: Definition) -> Proposal:
    """The proposal that a `proposed` entry holds.

    Raises:
        LedgerDamaged: its body is not that of a proposal.
    """
    try:
        check_proposal(definition, event.body)
        return _proposal(event)
    except MISUNDERSTOOD as error:
        raise damaged(event, error) from None


def _proposal(event: Event) -> Proposal:
    body = event.body
    return Proposal(
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
        terms=terms_of(body.get("terms", {})),
        entry=event.seq,
        taken_from=body.get("taken_from", ""),
    )


@dataclass
class Bench:
    """The machine of one bench, as far as told."""

    machine: Setting
    boot: int
    """Number of its present boot, among those of all benches."""
    restarting: bool = False
    cold: bool = False
    boot_told: bool = False
    """Whether it was seen to start; the first boot may have been of either kind."""


class State:
    """Scratch for one fold."""

    def __init__(self, amendments: dict[int, list[Mapping[str, Any]]], source: str) -> None:
        self.amendments = amendments
        self.source = source
        self.definitions: list[Definition] = []
        self.runs: list[Run] = []
        self.open: dict[int, Event] = {}
        self.accepted: dict[str, float] = {}
        self.benches: dict[str, Bench] = {}
        self.boots = 0
        self.changes: list[Changed] = []
        self.milestones: list[Milestone] = []
        self.closed = ""
        self.reopened = False
        self.verdict = ""
        self.number = 1
        self.told = 0

    def at(self, bench: str) -> Bench:
        """The machine of a bench; one that was not told of yet is at stock."""
        if bench not in self.benches:
            self.boots += 1
            self.benches[bench] = self._unknown(self.boots)
        return self.benches[bench]

    def _unknown(self, boot: int) -> Bench:
        return Bench(dict(self.definitions[-1].stock), boot)

    def history(self, bench: str | None = None) -> History:
        """What the entries so far come to, as seen from a bench; None: the last to be told of."""
        if bench is None:
            bench = next(reversed(self.benches), "")
        here = self.benches.get(bench) or self._unknown(self.boots + 1)
        return History(
            definitions=tuple(self.definitions),
            runs=tuple(self._completed()),
            pending={
                e.bench: self._complete(proposal_of(e, self.definitions[-1]))
                for e in self.open.values()
            },
            accepted=self.accepted,
            machine=here.machine,
            restarting=here.restarting,
            boot=here.boot,
            boot_is_cold=here.cold,
            changes=tuple(self.changes),
            closed=self.closed,
            reopened=self.reopened,
            verdict=self.verdict,
            next_number=self.number,
            told=self.told,
            milestones=tuple(self.milestones),
        )

    def _completed(self) -> Iterable[Run]:
        """Runs told by the knobs of today.

        A knob that was added later ran at its stock value; one that was removed no longer tells
        runs apart.
        """
        if len(self.definitions) == 1:
            return self.runs
        stock = self.definitions[-1].stock
        return (
            run
            if stock.keys() == run.ran.keys()
            else run._replace(ran={n: run.ran.get(n, value) for n, value in stock.items()})
            for run in self.runs
        )

    def _complete(self, proposal: Proposal) -> Proposal:
        return replace(proposal, settings={**self.definitions[-1].stock, **proposal.settings})

    def mark(self, kind: Kind, what: str = "", up_to: float | None = None) -> None:
        """Note where between the runs something else was told."""
        after = sum(run.outcome is not Outcome.VOID for run in self.runs)
        self.milestones.append(Milestone(kind, after, what, up_to))

    def restart(self, here: Bench, cold: bool) -> None:
        """A machine starts anew: a new cluster of runs."""
        self.boots += 1
        here.boot, here.boot_told = self.boots, True
        here.cold = cold
