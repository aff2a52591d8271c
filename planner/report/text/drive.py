"""What `planner drive` says: cautions, the commands to agree to, each run, the end."""

import json
from collections.abc import Mapping, Sequence

from planner.domain.ceilings import NO_CEILINGS
from planner.domain.definition import Definition
from planner.domain.knob import Where
from planner.domain.outcome import Outcome
from planner.domain.quantity import with_unit
from planner.domain.run import Proposal, Run
from planner.report.text import phrases
from planner.report.text.layout import prose, shortened

_CAUTIONS = (
    "Heat and fire: a machine past its stock settings that nobody watches can overheat, and loads"
    " near the rating of a circuit for hours start fires. Stay within reach, have a smoke alarm in"
    " the room, give every temperature a stop, keep the mains load well under the circuit's"
    " rating.",
    "Data: a crash can corrupt any drive that is mounted. Back up first.",
    "Everyday ceilings hold, whatever risk was accepted.",
)


def cautions_text(definition: Definition, width: int) -> str:
    """What to see to before a machine is left to run past its stock settings."""
    told = [*_CAUTIONS]
    drive = definition.drive
    stops = [name for name, reading in definition.readings.items() if reading.stop is not None]
    if drive is not None and not drive.probe:
        told.append("No probe is given: nothing watches the heat while it runs.")
    elif not stops:
        told.append("No reading has a stop: the probe's readings are kept, and end nothing.")
    told += [
        f"{name} has no everyday ceiling: nothing but its range bounds it."
        for name, knob in definition.knobs.items()
        if knob.where is Where.LIVE and definition.guarded.get(name, NO_CEILINGS).everyday is None
    ]
    lines = ["Caution: this machine is about to be driven unattended."]
    for text in told:
        lines += prose(f"- {text}", width, hang=2)
    return "\n".join(lines)


def commands_text(
    commands: Sequence[tuple[str, Sequence[str]]], folder: str, files: Sequence[tuple[str, str]]
) -> str:
    """The commands to the letter: one argument each in quotes, what is not ASCII escaped."""
    longest = max(len(what) for what, _ in commands)
    lines = [f"Commands that will be run in {json.dumps(folder)}:"]
    lines += [f"  {what:<{longest}}  {json.dumps(list(command))}" for what, command in commands]
    if files:
        lines.append("Files of the study that they name, by SHA-256:")
        lines += [f"  {json.dumps(name)}  {digest[:16]}" for name, digest in files]
    return "\n".join(lines)


def starting_text(proposal: Proposal, definition: Definition, width: int) -> str:
    """The run that begins now."""
    what = phrases.setting(definition, proposal.settings)
    passing = phrases.chance(proposal.pass_probability)
    text = f"Run {proposal.number}: {what}; {proposal.workload}"
    text += f" for {phrases.minutes(proposal.run_minutes)}, chance of a pass {passing}"
    return "\n".join(prose(text, width, hang=2))


def progress_line(
    left_s: float, readings: Mapping[str, float], definition: Definition, last: bool, width: int
) -> str:
    """Time left, whether it ends after this run, and the readings so far, on one line."""
    minutes, seconds = divmod(round(left_s), 60)
    shown = [f"  {minutes}:{seconds:02d} left"]
    if last:
        shown.append("ends after this run (Ctrl-C again: at once)")
    shown += [
        f"{name} {with_unit(value, definition.readings[name].unit)}"
        for name, value in readings.items()
    ]
    return shortened(", ".join(shown).strip(), width - 1)


def settled_text(run: Run, suffix: str, width: int) -> str:
    """What became of the run that a drive had under way when it was cut off."""
    why = _seen(run)
    text = (
        f"Run {run.number} was under way when drive was cut off: recorded as {run.outcome} ({why})."
    )
    if run.outcome.failed:
        text += f" If it was none, mend it: planner amend {run.number} void{suffix}"
    return "\n".join(prose(text, width, hang=2))


def why_text(run: Run, width: int) -> str:
    """What was seen of a run that did not pass; empty where there is nothing to tell."""
    seen = "" if run.outcome is Outcome.PASS else _seen(run)
    return "\n".join(prose(f"  {seen}", width, hang=2)) if seen else ""


def _seen(run: Run) -> str:
    return "; ".join(part for part in (run.symptom, run.note) if part)
