"""What a run came to is on record before the next one begins, whatever others wrote meanwhile."""

from collections.abc import Callable, Mapping
from typing import Any

from planner.domain.run import Proposal, Run
from planner.driving.result import Result
from planner.entries.few_words import printable
from planner.errors import RecordError
from planner.study import Study

_DOUBTED = ("score", "subscores", "readings")
"""What a command told, and may have told wrongly."""
_LONGEST_NOTE = 1000


def put_on_record(
    study: Study, proposal: Proposal, result: Result, say: Callable[[str], None]
) -> Run:
    """Record the end of the run that was proposed, and tell by `say` what came in between.

    An answer that another window gave meanwhile stands, and what was seen is noted beside it.
    Where the proposal was withdrawn meanwhile, it was run all the same: as a run of one's own.

    Raises:
        RecordError: what was run cannot be recorded any more, as a knob that is gone.
    """
    try:
        return _recorded(study, result, {"number": proposal.number})
    except RecordError:
        history = study.history
        if (run := history.by_number.get(proposal.number)) is not None:
            return _noted(study, run, result, say)
        if any(asked.number == proposal.number for asked in history.pending.values()):
            raise
    run = _recorded(study, result, {"settings": proposal.settings, "workload": proposal.workload})
    say(f"Run {proposal.number} was withdrawn while it ran: recorded as run {run.number}.")
    return run


def _recorded(study: Study, result: Result, which: Mapping[str, Any]) -> Run:
    try:
        return study.record(result.outcome, **which, **result.facts)
    except RecordError as error:
        # What a command told is refused: the outcome stands without it.
        kept = {name: value for name, value in result.facts.items() if name not in _DOUBTED}
        note = printable(f"left out: {error}")[:_LONGEST_NOTE]
        return study.record(result.outcome, **which, **kept | {"note": note})


def _noted(study: Study, run: Run, result: Result, say: Callable[[str], None]) -> Run:
    facts = result.facts
    told = [f"score {facts['score']:g}"] if "score" in facts else []
    told += [facts[name] for name in ("symptom", "note") if name in facts]
    seen = f"drive saw {', '.join([str(result.outcome), *told])}"
    say(f"Run {run.number} was answered elsewhere as {run.outcome}, and that stands; {seen}.")
    note = "; ".join(part for part in (run.note, seen) if part)
    return study.amend(run.number, note=note[:_LONGEST_NOTE])
