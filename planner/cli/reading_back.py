"""Late in an evening a pass at raised voltages is recorded with what the machine reads."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import typer

from planner.cli.console import talk
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.domain.definition import Definition
    from planner.domain.knob import Value
    from planner.domain.run import Change
    from planner.study import Study


def read_back(
    study: "Study", number: int | None, told: Mapping[str, "Value"]
) -> dict[str, "Value"]:
    """What really ran, as far as it differs from what was asked for; `told`: known already.

    Raises:
        InputError: it differs, and the person would rather not record that.
    """
    from planner.report.text.read_back import differences, question, to_read_back

    history = study.history
    asked = {p.number: p for p in history.pending.values()}
    pending = study.pending if number is None else asked.get(number)
    if pending is None:
        return dict(told)
    proposal = history.against_machine(pending)
    owed = [c for c in to_read_back(proposal, history) if c.knob not in told]
    read: dict[str, Value] = {}
    for change in owed:
        read |= _read(history.definition, change, question(history.definition, change))
    other = {name: value for name, value in read.items() if value != proposal.settings[name]}
    for line in differences(history.definition, proposal.settings, other):
        talk(line)
    if other and not typer.confirm("Record the run at what you read?", err=True):
        raise InputError("not recorded: set the voltage as asked for and run it again")
    return {**told, **other}


def _read(definition: "Definition", change: "Change", what: str) -> dict[str, "Value"]:
    """One voltage, asked for until it is one."""
    from planner.entries.facts import knob_values

    while True:
        try:
            typed = typer.prompt(what, err=True)
            return knob_values(definition, "actual", {change.knob: typed})
        except InputError as error:
            talk(str(error))
