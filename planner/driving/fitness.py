"""Whether a study may be driven at all: by commands of its own, and over live knobs only."""

import os
import shutil
from collections.abc import Iterator

from planner.domain.definition import Definition
from planner.domain.drive import Drive
from planner.domain.knob import Knob, Where
from planner.domain.run import Proposal
from planner.domain.tables import Aim
from planner.driving.agreement import Agreement
from planner.driving.handing_over import check_names
from planner.errors import DefinitionError, InputError


def drive_of(definition: Definition) -> Drive:
    """The study's commands.

    Raises:
        InputError: it has none, or would turn a knob that needs the firmware.
    """
    if os.name != "posix":
        raise InputError("drive: needs process groups as Linux and macOS have them")
    if definition.drive is None:
        raise DefinitionError("study.toml: no [drive] table: expected apply, workload and restore")
    check_names(definition.knobs)
    for knob in _turned(definition):
        if knob.where is not Where.LIVE:
            raise _not_live(knob.name)
    return definition.drive


def check_programs(agreed: Agreement) -> None:
    """Raises InputError where a command's program is not there, before any value is set."""
    for what, command in agreed.commands:
        program = command[0]
        at = str(agreed.folder / program) if "/" in program else program
        if "{" not in program and shutil.which(at) is None:
            where = f"at {at}" if "/" in program else "on the PATH"
            raise InputError(
                f"study.toml: [drive]: {what} = {list(command)}: {program!r} cannot be started,"
                f" expected a program {where}"
            )


def check_changes(definition: Definition, proposal: Proposal) -> None:
    """Raises DefinitionError where a proposal wants a knob turned that is not live."""
    for change in proposal.changes:
        if definition.knobs[change.knob].where is not Where.LIVE:
            raise _not_live(change.knob)


def _turned(definition: Definition) -> Iterator[Knob]:
    """The knobs that the aim turns."""
    if not definition.goal.aim.one_knob:
        yield from (knob for knob in definition.knobs.values() if len(knob.values) > 1)
        return
    if definition.searched is not None:
        yield definition.searched
    if definition.goal.aim is Aim.FRONTIER and definition.goal.along:
        yield definition.knobs[definition.goal.along]


def _not_live(name: str) -> DefinitionError:
    return DefinitionError(
        f'study.toml: [[knob]] {name}: where = "firmware": expected "live": drive turns only what'
        " is changed while the machine runs and lost when it restarts"
    )
