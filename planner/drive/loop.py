"""Ask, set, run, record, and again, until the study closes or somebody or something ends it."""

import os
from collections.abc import Callable
from dataclasses import dataclass, replace

from planner.bench import boot_mark
from planner.domain.definition import Definition
from planner.domain.launch import Drive
from planner.domain.run import Proposal
from planner.drive import limits
from planner.drive.attempt import Attempt, Result
from planner.drive.halt import Halt
from planner.drive.machine import Machine
from planner.drive.returning import Finding, record, settle
from planner.drive.room import Room
from planner.drive.screen import End, Screen
from planner.drive.under_way import Begun, Phase, Trail, UnderWay
from planner.errors import AnswerOwed, CommandFailed, LedgerError
from planner.gate import gate_of
from planner.study import Study


@dataclass(frozen=True, slots=True)
class Wanted:
    """How a drive is to go."""

    unattended: bool = True
    """Nobody is there: everyday ceilings, live knobs."""
    runs: int | None = None
    """End after so many runs."""
    by_hand: bool = True
    """A person started it, not a script at boot."""


class Loop:
    """One drive of one study."""

    def __init__(
        self,
        study: Study,
        drive: Drive,
        room: Room,
        screen: Screen,
        halt: Halt,
        wanted: Wanted,
        agreed: Callable[[Definition], bool],
    ) -> None:
        """`agreed`: whether a definition runs nothing but what the person has agreed to."""
        self._study = study
        self._drive = drive
        self._screen = screen
        self._halt = halt
        self._wanted = wanted
        self._agreed = agreed
        self._view = limits.unattended if wanted.unattended else limits.attended
        self._machine = Machine(study.history.definition, drive, room, halt)
        self._trail = Trail(room.under_way)
        self._told = UnderWay(
            unattended=wanted.unattended,
            token=os.urandom(12).hex(),
            boot_mark=boot_mark(),
            first=len(study.history.runs),
        )
        self._attempt = Attempt(self._machine, room, halt, screen, self._write_down)
        self._done = 0

    def run(self) -> tuple[End, str]:
        """Drive; how it ended and why. Stock values are back when this returns, where they can be.

        Raises:
            AnswerOwed: a run from before a restart that only a person can tell of.
            LedgerUnwritable: what is under way cannot be written down, so nothing is run.
        """
        earlier = self._trail.read()
        if earlier is not None:
            self._take_up(earlier)
        self._trail.write(self._told)
        try:
            self._reach(after_a_crash=earlier is not None)
            self._prove_stock()
            return self._repeat()
        except CommandFailed as error:
            return End.FAILED, str(error)
        except AnswerOwed as error:
            return End.PERSON, str(error)
        finally:
            self._leave()

    def _take_up(self, earlier: UnderWay) -> None:
        """Settle what an earlier drive left unsaid."""
        if words := settle(self._study, earlier, self._wanted.by_hand):
            self._screen.said(words)
        if self._wanted.by_hand:
            return
        if earlier.resumes >= self._drive.failures:
            raise AnswerOwed(
                f"this machine was restarted {earlier.resumes} times in mid-drive without a run"
                " that ended: look at it, and start the drive by hand"
            )
        self._told = replace(self._told, resumes=earlier.resumes + 1, first=earlier.first)

    def _repeat(self) -> tuple[End, str]:
        while True:
            if self._halt.asked:
                return (End.AT_ONCE if self._halt.at_once else End.ASKED), "as you asked"
            if self._wanted.runs is not None and self._done >= self._wanted.runs:
                return End.ASKED, f"{self._done} runs are done"
            own = self._study.history.runs[self._told.first :]
            if reason := limits.enough(self._drive, own):
                return End.FAILED, reason
            proposal = self._ask()
            if proposal is None:
                return End.CLOSED, self._verdict()
            self._screen.asked(proposal)
            self._answer(proposal, self._attempt.run(proposal, self._token))

    def _ask(self) -> Proposal | None:
        """The next proposal that may be run as things are.

        Raises:
            AnswerOwed: a person is needed for it.
        """
        proposal = self._study.next(self._view)
        history = self._study.history
        definition = history.definition
        if not self._agreed(definition):
            raise AnswerOwed("study.toml was edited and runs other commands now: agree to them")
        self._machine.definition = definition
        if proposal is None:
            return None
        if why := gate_of(self._view(history)).objections(proposal.settings):
            raise AnswerOwed(f"run {proposal.number} is pending and not for a drive: {why[0]}")
        if proposal.start_when:
            raise AnswerOwed(f"run {proposal.number} is to start {proposal.start_when}")
        if definition.workloads[proposal.workload].launch is None:
            raise AnswerOwed(
                f"study.toml: [[workload]] {proposal.workload}: has no [workload.launch] table, so"
                " it can only be run by hand"
            )
        return proposal

    def _answer(self, proposal: Proposal, result: Result) -> None:
        """Have on disk what a run came to, then look after the machine."""
        verdict = result.verdict
        over = Begun(
            proposal.number, Phase.OVER, outcome=verdict.outcome, facts=dict(verdict.facts)
        )
        self._write_down(over)
        record(
            self._study, proposal.number, Finding(verdict.outcome, {**verdict.facts}, verdict.why)
        )
        self._told = replace(self._told, begun=None, resumes=0)
        self._trail.write(self._told)
        self._done += 1
        self._screen.recorded(self._study.history.by_number[proposal.number], verdict.why)
        if result.gone or result.unsafe or verdict.outcome.restarts:
            self._reach(after_a_crash=True)

    def _prove_stock(self) -> None:
        """Before anything is searched, one run of what is known to hold shows that all works.

        Raises:
            CommandFailed: it did not pass, so commands or machine are not as they should be.
        """
        history = self._study.history
        if any(run.outcome.held for run in history.evidence) or history.closed:
            return
        definition = history.definition
        launch, workload = definition.workload.launch, definition.workload
        if launch is None:
            return  # asking will say so
        live = limits.unattended(history).fixed if self._wanted.unattended else {}
        stock = {**definition.stock, **live}
        self._screen.said("First a run at stock values, to see that all works.")
        result = self._attempt.run_stock(stock, workload, history.next_number, self._token)
        verdict = result.verdict
        facts = {"settings": stock, "workload": workload.name, **verdict.facts}
        held = verdict.outcome.held
        came = "" if held else f" came to {verdict.outcome}: {verdict.why}"
        note = f"driven: the first run, at stock{came}"[:300]
        outcome = verdict.outcome if held else "void"
        kept = facts if held else {"settings": stock, "workload": workload.name}
        run = self._study.record(outcome, note=note, **kept)
        self._told = replace(self._told, begun=None)
        self._trail.write(self._told)
        self._screen.recorded(run, verdict.why)
        if not held and not self._halt.asked:
            raise CommandFailed(
                f"the first run, at stock values, did not pass ({verdict.outcome}: {verdict.why}):"
                " see to the commands and the machine before anything is searched"
            )

    def _reach(self, after_a_crash: bool) -> None:
        """See that the machine answers, at stock values after a crash; power-cycle it if need be.

        Raises:
            CommandFailed: it does not come back, or stock values don't.
        """
        order = self._machine.order(self._study.history.definition.stock, token=self._token)
        if not self._machine.is_there(order):
            for _ in range(2 if self._drive.reset else 1):
                if self._drive.reset:
                    self._screen.said("It does not answer: reset.")
                    self._machine.reset(self._token)
                if self._machine.comes_back(order):
                    break
            else:
                raise CommandFailed(
                    f"the machine did not answer within {self._drive.boot_s:g} s"
                    + (", after two resets" if self._drive.reset else "; there is no reset command")
                )
        if after_a_crash:
            self._bring_back()

    def _bring_back(self) -> None:
        self._machine.restore(self._token)
        history = self._study.history
        if self._drive.restore is not None and history.machine != history.definition.stock:
            self._study.restored()

    def _leave(self) -> None:
        """Bring stock back, and take the trail away unless something on it is not yet recorded."""
        try:
            self._bring_back()
        except CommandFailed as error:
            self._screen.said(f"STOCK VALUES ARE NOT BACK: {error}. See to the machine.")
        except LedgerError as error:
            self._screen.said(str(error))
        if self._told.begun is None:
            self._trail.clear()

    def _write_down(self, begun: Begun | None) -> None:
        self._told = replace(self._told, begun=begun)
        self._trail.write(self._told)

    def _verdict(self) -> str:
        history = self._study.history
        return history.closed or self._study.closing() or "no setting is left that a drive may run"

    @property
    def _token(self) -> str:
        return self._told.token
