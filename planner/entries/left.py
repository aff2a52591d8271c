"""Taking over what another bench was asked for and left unanswered for too long."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from planner.domain.run import Proposal
from planner.domain.terms import Terms
from planner.entries.proposed import proposed_entry
from planner.gate import gate_of
from planner.history import History


def left_entry(
    history: History,
    terms: Terms,
    boot_mark: str,
    age_s: Callable[[int], float | None],
) -> tuple[dict[str, Any], str] | None:
    """The body of a `proposed` entry that asks this bench for it instead, and why.

    It keeps its number. None where the study does not say when (`take_over_minutes`), nothing is
    that old, it was asked for on other terms, or the gate forbids it by now. `age_s`: seconds
    since an entry was written, by a clock that the benches share; where it knows none, the times
    in the entries are compared with this machine's clock.
    """
    after = history.definition.goal.take_over_minutes
    if after is None:
        return None
    gate = gate_of(history, terms.everyday_only)
    for left in history.pending.values():
        if terms.of_the_search and terms.body != left.terms.body:
            continue
        shared = age_s(left.entry)
        minutes = (_age_s(left.time) if shared is None else shared) / 60
        if minutes > after and not gate.objections(left.settings):
            taken = _taken(left, minutes, boot_mark)
            return proposed_entry(history.definition, taken), taken.reason
    return None


def _age_s(time: str) -> float:
    """Seconds since a time of an entry; 0 where it is none. Negative under a clock set back."""
    try:
        then = datetime.fromisoformat(time)
        return (datetime.now(UTC) - then).total_seconds()
    except (ValueError, TypeError):
        return 0.0


def _taken(left: Proposal, minutes: float, boot_mark: str) -> Proposal:
    waited = f"{minutes:.0f} min" if minutes < 180 else f"{minutes / 60:.0f} h"
    reason = (
        f"taken over from {left.bench}, which has not answered for {waited} and may have failed at"
        f" it; it was asked for because: {left.reason}"
    )
    return replace(left, reason=reason, boot_mark=boot_mark, taken_from=left.bench)
