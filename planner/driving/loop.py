"""The search loop: ask, run, record, until nothing is left or something says stop."""

import time
from collections.abc import Callable, Generator
from dataclasses import dataclass, field, replace

from planner.bench import boot_mark
from planner.domain.knob import Where
from planner.domain.outcome import Outcome
from planner.domain.run import Proposal, Run
from planner.driving.attempt import Bench
from planner.driving.fitness import check_changes
from planner.driving.keeping import put_on_record
from planner.driving.result import Result
from planner.driving.trail import Begun, Trail, UnderWay
from planner.errors import LedgerError
from planner.study import Study

NOT_SET_MOST = 3
"""So many times in a row the values may fail to be set."""
DOWNS_MOST = 4
"""So often in a row the machine may go down before a person has to look at it."""


class Halt(Exception):
    """Nothing more may be run unattended; the message says why."""


@dataclass(slots=True)
class Loop:
    """Runs a study on a bench."""

    study: Study
    bench: Bench
    trail: Trail
    still_agreed: Callable[[], None]
    """Called before each run; raises where study.toml was edited into something else."""
    before: Callable[[Proposal], None] = lambda proposal: None
    most: int | None = None
    """Runs to make; None: until nothing is left."""
    left: UnderWay | None = None
    """What a drive that was cut off has left."""
    exhausted: bool = field(default=False, init=False)
    """Whether nothing was left to propose."""
    _told: UnderWay = field(init=False)
    _not_set: int = field(default=0, init=False)
    _turned: bool = field(default=False, init=False)
    """Whether the machine may hold something else than stock."""

    def __post_init__(self) -> None:
        """Go on counting where an earlier drive was cut off in a run."""
        left = self.left
        cut = left is not None and (left.begun is not None or not left.whole)
        downs = 0 if left is None else left.downs + cut
        self._told = UnderWay(boot_mark(), self.bench.token, downs)
        self._turned = left is not None
        self.bench.alive = self._alive

    def runs(self) -> Generator[Run, None, None]:
        """Each run as it is on record; at the end the machine is back at stock.

        Raises:
            Halt: something that wants a person.
            InputError: a command cannot be started.
            LedgerUnwritable: the disk refuses.
        """
        try:
            self.trail.write(self._told)
            self._check_downs()
            self._restore()
            made = 0
            while (self.most is None or made < self.most) and not self.bench.wish.finish:
                proposal = self.study.next(everyday_only=True)
                if proposal is None:
                    self.exhausted = True
                    return
                self.still_agreed()
                result = self._one(proposal)
                yield put_on_record(self.study, proposal, result, self.bench.say)
                made += 1
                self._after(result)
        finally:
            try:
                self._restore()
            finally:
                self.trail.clear()

    def _one(self, proposal: Proposal) -> Result:
        check_changes(self.study.history.definition, proposal)
        if proposal.start_when:
            raise Halt(f"run {proposal.number} is to begin {proposal.start_when}: that takes you")
        self._reach()
        self.before(proposal)
        self._write(Begun(proposal.number))
        self._turned = True
        result = self.bench.run(proposal.settings, proposal.run_minutes, proposal.workload)
        self._told = replace(self._told, downs=self._told.downs + 1 if result.down else 0)
        self._write(None)
        return result

    def _after(self, result: Result) -> None:
        """What the run means for those to come."""
        if result.blind:
            raise Halt(result.blind)
        self._not_set = self._not_set + 1 if result.not_set else 0
        if self._not_set >= NOT_SET_MOST:
            raise Halt(f"apply failed {NOT_SET_MOST} times in a row")
        self._check_downs()
        if result.outcome is not Outcome.PASS:
            self._restore()

    def _check_downs(self) -> None:
        if self._told.downs >= DOWNS_MOST:
            raise Halt(
                f"the machine went down, or drive was cut off, in {DOWNS_MOST} runs in a row"
            )

    def _reach(self) -> None:
        if problem := self.bench.reach():
            raise Halt(problem)

    def _restore(self) -> None:
        if not self._turned:
            return
        self._turned = False
        self._reach()
        if problem := self.bench.restore(self.bench.definition.stock):
            raise Halt(problem)
        self.bench.say("Back at stock.")
        history = self.study.history
        knobs = history.definition.knobs
        if any(k.where is Where.LIVE and history.machine[n] != k.stock for n, k in knobs.items()):
            self.study.restored()

    def _write(self, begun: Begun | None) -> None:
        self._told = replace(self._told, begun=begun)
        self.trail.write(self._told)

    def _alive(self, seconds: float) -> None:
        """A sign of life of the run under way; a full disk does not end the run."""
        begun = self._told.begun
        if begun is None:
            return
        if not seconds:
            begun = replace(begun, started=time.time())
        self._told = replace(self._told, begun=replace(begun, alive_s=round(seconds, 3)))
        try:
            self.trail.write(self._told)
        except LedgerError:
            return
