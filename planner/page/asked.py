"""The run to be made, in words, and what may be told of it."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.bench import boot_mark, same_boot
from planner.domain.quantity import with_unit
from planner.domain.run import Proposal
from planner.domain.tables import Workload
from planner.history import History
from planner.report.text.outlook import barred_rows, expected_rows
from planner.report.text.proposal import at_work_text, run_rows, warnings

Rows = Sequence[tuple[str, ...]]
_CLOSED = "The study is closed. If this run was made, tell how it ended; nothing more is asked for."
_RESTARTED = (
    "This machine was started anew since this run was asked for, and it has no answer yet: if it"
    " was run, tell how it ended; if not, run it now."
)


@dataclass(frozen=True, slots=True)
class Tellable:
    """What may be told of a run beside how it ended."""

    score_name: str
    """What the score is of; empty where the workload has none."""
    parts: Sequence[str]
    readings: Rows
    """Name and unit of what may be measured."""


@dataclass(frozen=True, slots=True)
class Asked:
    """The run to be made."""

    number: int
    time: str
    """When it was asked for."""
    changes: Rows
    """Knob, value before, value after."""
    warnings: Sequence[str]
    rows: Rows
    settings: Rows
    """Every knob and the value that it should have."""
    tellable: Tellable


def asked_of(history: History, proposal: Proposal, driven: bool) -> Asked:
    """A proposal in words; `driven`: whether a drive is running it."""
    definition = history.definition
    said = warnings(proposal, history)
    if history.closed:
        said.insert(0, _CLOSED)
    if not same_boot(proposal.boot_mark, boot_mark()):
        said.insert(0, _RESTARTED)
    if driven:
        said.insert(0, at_work_text(proposal.number))
    setting = proposal.settings
    rows = run_rows(proposal) + expected_rows(history, setting)
    return Asked(
        number=proposal.number,
        time=proposal.time,
        changes=[
            (c.knob, with_unit(c.before, c.unit), with_unit(c.after, c.unit))
            for c in proposal.changes
        ],
        warnings=said,
        rows=rows + barred_rows(history, setting),
        settings=[(name, definition.knobs[name].show(value)) for name, value in setting.items()],
        tellable=tellable(history, proposal.workload),
    )


def tellable(history: History, workload: str) -> Tellable:
    """What may be told of a run of a workload."""
    definition = history.definition
    ran: Workload = definition.workloads.get(workload, definition.workload)
    return Tellable(
        score_name=ran.name if ran.scored else "",
        parts=[name for name, _ in ran.subscores],
        readings=[(name, reading.unit) for name, reading in definition.readings.items()],
    )
