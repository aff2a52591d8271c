"""Taking a proposal back unanswered."""

from typing import Any

from planner.entries.few_words import is_few_words
from planner.errors import RecordError
from planner.history import History


def withdrawn_entry(history: History, number: int, why: str) -> dict[str, Any]:
    """The body of a `withdrawn` entry.

    Raises:
        RecordError: the proposal is not pending, or no reason in a few printable words.
    """
    waiting = [proposal.number for proposal in history.pending.values()]
    if number not in waiting:
        known = ", ".join(map(str, waiting)) or "none"
        raise RecordError(f"withdraw {number!r}: is not pending, expected one of: {known}")
    if not is_few_words(why):
        raise RecordError(f"withdraw {number}: {why!r}: expected the reason, in a few words")
    return {"run": number, "why": why}
