"""Reading the study anew before a prompt: what is pending, and what others did meanwhile."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.domain.run import Proposal, Run
from planner.errors import DefinitionError, LedgerBusy, LedgerConflict, PlannerError

if TYPE_CHECKING:
    from planner.study import Study


@dataclass(frozen=True, slots=True)
class Seen:
    """The study as it stands before a prompt."""

    proposal: Proposal | None
    """What is pending, asked for now if nothing was."""
    fault: PlannerError | None = None
    """Why nothing can be asked for; a pending run can be answered all the same."""
    adopted: bool = False
    """Whether an edited study.toml was taken over."""
    answered: Run | None = None
    """The run that was pending before, if another window answered it."""
    withdrawn: int | None = None
    """Its number, if it is not to be run any more."""

    @property
    def closed(self) -> bool:
        """Whether the study has nothing left to ask for."""
        return self.fault is None and self.proposal is None


def seen(study: "Study", before: Proposal | None) -> Seen:
    """The study now; `before`: what was pending when it was looked at last.

    Raises:
        PlannerError: what no edit of study.toml mends, as a damaged ledger.
    """
    adopted, fault = False, None
    try:
        adopted = study.adopt()
        proposal = study.next()
    except (DefinitionError, LedgerBusy, LedgerConflict) as error:
        proposal, fault = study.pending, error
    answered = withdrawn = None
    if before is not None and (proposal is None or proposal.number != before.number):
        history = study.history
        answered = history.by_number.get(before.number)
        still = any(p.number == before.number for p in history.pending.values())
        withdrawn = None if answered or still else before.number
    return Seen(proposal, fault, adopted, answered, withdrawn)
