"""What a session sees of its study, and shows: each screen once, until it has changed."""

from collections.abc import Collection
from typing import TYPE_CHECKING

from planner.bench import boot_mark, same_boot
from planner.cli.guided.desk import Desk
from planner.cli.guided.screens import Screens
from planner.cli.guided.watch import Seen, seen
from planner.domain.run import Proposal
from planner.errors import PlannerError
from planner.report.text import guided
from planner.report.text.proposal import at_work_text

if TYPE_CHECKING:
    from planner.study import Study


class View:
    """The study as it was seen last, and what of it is on the screen."""

    def __init__(self, study: "Study", desk: Desk) -> None:
        """Nothing is shown yet."""
        self._study = study
        self._desk = desk
        self._screens = Screens(study, desk.suffix)
        self._seen = Seen(None)
        self._on_screen: object = None
        self.pending: Proposal | None = study.pending
        """What an answer is taken for."""
        self._met = self.pending.number if self.pending else 0
        """The last run that the person knows of."""
        self._owed = self._met if self.pending and _from_earlier_boot(self.pending) else 0
        """The run that was asked for before a restart and has no answer; 0: none."""
        self._shown_at: float | None = None
        """When a new run was first shown; None: its answer cannot be hasty."""

    @property
    def closed(self) -> bool:
        """Whether nothing is left to ask for."""
        return self._seen.closed

    @property
    def fault(self) -> PlannerError | None:
        """Why nothing can be asked for."""
        return self._seen.fault

    def open(self) -> None:
        """Say where the study stands."""
        self._desk.say(self._screens.opening(self._desk.width()))

    def look(self, ours: Collection[int]) -> None:
        """Read the study anew, and show what has changed.

        `ours`: runs that this session answered or withdrew, which are no news.
        """
        width, before = self._desk.width(), self.pending
        now = seen(self._study, None if before and before.number in ours else before)
        for text in self._screens.news(now):
            self._desk.tell(text)
        self._seen = now
        self.pending = self._study.pending if now.closed else now.proposal
        standing = (now.proposal, str(now.fault or ""), now.closed)
        if standing != self._on_screen:
            self._on_screen = standing
            self._show(now, bool(ours), width)

    def _show(self, now: Seen, undo: bool, width: int) -> None:
        proposal = now.proposal
        if now.closed:
            self._desk.show(self._screens.verdict(self.pending, undo, width))
        elif proposal is not None and proposal.number == self._owed:
            self._desk.show(self._screens.owed(proposal, width))
        elif proposal is not None:
            self._desk.show(self._screens.proposal(proposal, width))
            if self._desk.at_work() == proposal.number:
                self._desk.say("")
                self._desk.tell(at_work_text(proposal.number))
            if proposal.number != self._met:
                self._met = proposal.number
                self._shown_at = self._desk.now() if self._desk.person else None
        if now.fault is not None:
            self._desk.say("\n" + guided.fault_text(now.fault, now.proposal, width))

    def forget(self) -> None:
        """Show all anew at the next look."""
        self._on_screen = None

    def show_again(self) -> None:
        """The same, and the run from before a restart is to be run."""
        self._owed = 0
        self.forget()

    def seconds_shown(self) -> float | None:
        """Since a new run was first shown; None once that does not matter."""
        return None if self._shown_at is None else self._desk.now() - self._shown_at

    def settle(self) -> None:
        """Haste was asked about, once is enough."""
        self._shown_at = None

    def standing(self, everything: bool) -> str:
        """As `show` shows it."""
        return self._screens.standing(everything, self._desk.width())

    def skipping(self, pending: Proposal) -> str:
        """What to do about a run that is not wanted."""
        width, suffix = self._desk.width(), self._desk.suffix
        return guided.skip_text(pending, self._study.history, suffix, width)

    def leaving(self) -> str:
        """What is pending, and that nothing is lost."""
        width, suffix = self._desk.width(), self._desk.suffix
        try:
            return guided.leaving_text(self._study.history, self._study.pending, suffix, width)
        except PlannerError:
            return guided.leaving_text(None, None, suffix, width)


def _from_earlier_boot(proposal: Proposal) -> bool:
    return not same_boot(proposal.boot_mark, boot_mark())
