"""The screens of a session, each as text: those of other commands, and those of the prompt."""

from typing import TYPE_CHECKING

from planner.cli.guided.watch import Seen
from planner.cli.next import recommendations
from planner.cli.show import LAST, standing_of
from planner.domain.run import Proposal
from planner.report.text import guided
from planner.report.text.proposal import proposal_text
from planner.report.text.show import standing_text
from planner.report.text.verdict import verdict_text

if TYPE_CHECKING:
    from planner.study import Study


class Screens:
    """Draws a study as it stands now."""

    def __init__(self, study: "Study", suffix: str) -> None:
        """`suffix`: what a command needs after it to mean this study."""
        self._study = study
        self._suffix = suffix

    def opening(self, width: int) -> str:
        """Where the study stands when the session begins."""
        return guided.opening_text(self._study.history, *recommendations(self._study), width)

    def proposal(self, proposal: Proposal, width: int) -> str:
        """What to run, as `next` shows it, with what may be typed."""
        history = self._study.history
        best, everyday = recommendations(self._study)
        text = proposal_text(proposal, history, best, everyday, self._suffix, width, guided.ANSWERS)
        if late := guided.late_text(proposal, history, width):
            text += f"\n{late}"
        if not history.evidence:
            text += f"\n\n{guided.first_run_text(history.definition, width)}"
        return text

    def owed(self, proposal: Proposal, width: int) -> str:
        """How did it end, before the restart?"""
        return guided.owed_text(proposal, self._study.history, width)

    def verdict(self, pending: Proposal | None, undo: bool, width: int) -> str:
        """Why it is over, what to keep, how to go on, what may still be typed."""
        best, everyday = recommendations(self._study)
        text = verdict_text(self._study.history, best, everyday, self._suffix, width)
        if pending is None and not undo:
            return text
        return f"{text}\n\n{guided.closed_hint(pending, undo, width)}"

    def standing(self, everything: bool, width: int) -> str:
        """As `show` shows it."""
        last = 0 if everything else LAST
        return standing_text(standing_of(self._study), last, self._suffix, width)

    def news(self, seen: Seen) -> list[str]:
        """What others did since the last prompt, in sentences."""
        told = ["study.toml was edited: taken over."] if seen.adopted else []
        if seen.answered is not None:
            told.append(guided.elsewhere_text(seen.answered))
        if seen.withdrawn is not None:
            told.append(f"Run {seen.withdrawn} is withdrawn: it is not to be run any more.")
        return told
