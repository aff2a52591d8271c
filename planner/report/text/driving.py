"""What a drive says: what it will run, how far it is, how each run ended, why it ended."""

import shlex
from collections.abc import Mapping, Sequence

from planner.domain.definition import Definition
from planner.domain.launch import Command
from planner.domain.run import Proposal, Run
from planner.report.text import phrases
from planner.report.text.layout import columns, labelled, prose, shortened, widest
from planner.report.text.recorded import flags

_CAUTION = (
    "Commands run with your rights. A machine that is driven past stock can crash, spoil the"
    " drives mounted in it, overheat and catch fire: stay near it, or have what cuts its mains"
    " without you, put up and checked by somebody licensed."
)


def command_text(command: Command, words: Sequence[str] = ()) -> str:
    """A command as it could be typed; `words` with its places filled in."""
    shown = words or command.words
    return f"shell: {shown[0]}" if command.shell else shlex.join(shown)


def terms_text(
    title: str,
    commands: Sequence[tuple[str, Command]],
    scripts: Sequence[tuple[str, str]],
    files: Sequence[str],
    width: int,
) -> str:
    """All that a study may run, and the files that it deletes before a run."""
    lines = prose(f"What {title} may run, in its own folder:", width)
    lines += [""]
    for key, command in commands:
        limit = f"at most {command.limit_s:g} s"
        lines += prose(f"{key}, {limit}", width, indent=2)
        lines += ["    " + command_text(command)]
    if scripts:
        lines += ["", *prose("Scripts of the study's folder among them, by their SHA-256:", width)]
        lines += ["  " + line for line in columns([(file, sha[:16]) for file, sha in scripts])]
    if files:
        lines += ["", *prose(f"Deleted before a run, read after it: {', '.join(files)}", width)]
    return "\n".join([*lines, "", *prose(_CAUTION, width)])


def places_text(title: str, places: Sequence[tuple[str, str]], width: int) -> str:
    """Where a study keeps its ledger beyond its own folder."""
    lines = prose(f"Beyond its own folder, {title} keeps its ledger here (store.toml):", width)
    return "\n".join([*lines, "", *("  " + line for line in columns(places))])


def dry_run_text(
    definition: Definition,
    settings: Mapping[str, float | str],
    steps: Sequence[tuple[str, str]],
    unattended: bool,
    width: int,
) -> str:
    """The commands of one run in their order, with its values filled in."""
    how = "unattended: everyday ceilings, live knobs only" if unattended else "attended"
    opening = f"Dry run of {definition.goal.name}, {how}. Nothing is run, nothing is written."
    setting = phrases.setting(definition, settings)
    lines = [*prose(opening, width), "", *prose(f"For example at {setting}:", width)]
    for what, line in steps:
        lines += ["", *prose(what, width, indent=2), "    " + line]
    return "\n".join(lines)


def begun_text(proposal: Proposal, definition: Definition, width: int) -> str:
    """A run begins."""
    where = phrases.setting(definition, proposal.settings)
    told = (
        f"Run {proposal.number}: {where}; {proposal.workload}"
        f" {phrases.minutes(proposal.run_minutes)},"
        f" {phrases.chance(proposal.pass_probability)} to pass."
    )
    return "\n".join(prose(told, width, hang=2))


def driven_text(run: Run, why: str, definition: Definition, width: int) -> str:
    """How it ended."""
    told = f"Run {run.number}: {phrases.ending(run)}"
    told += f", score {run.score:g}" if run.score is not None else ""
    told += f" ({why})" if why else ""
    lines = prose(told + ".", width, hang=2)
    for flag in flags(run, definition):
        lines += prose(flag, width, hang=2)
    return "\n".join(lines)


def progress_text(
    seconds: float,
    length_s: float,
    readings: Mapping[str, float],
    definition: Definition,
    minutes_left: float | None,
    width: int,
) -> str:
    """How far a run is, on one line that fits; the bench time left only where there is room."""
    left = max(length_s - seconds, 0.0)
    parts = [f"{_clock(seconds)} of {_clock(length_s)}, {_clock(left)} left"]
    shown = [f"{name} {phrases.in_unit(definition, name, v)}" for name, v in readings.items()]
    if minutes_left is not None:
        shown.append(f"bench time left {_clock(max(minutes_left * 60 - seconds, 0.0))}")
    for part in shown:
        if widest(["; ".join([*parts, part])]) < width:
            parts.append(part)
    return shortened("; ".join(parts), width - 1)


def ended_text(how: str, why: str, runs: int, more: Sequence[tuple[str, str]], width: int) -> str:
    """Why a drive ended, how many runs it made, how to go on."""
    opening = {
        "closed": "The drive is done: nothing is left to ask for.",
        "asked": "The drive has ended.",
        "at once": "The drive was ended in mid-run; that run is void.",
        "person": "The drive needs you.",
        "failed": "The drive ended early.",
    }[how]
    rows = [("Reason", why), ("Runs", str(runs)), *more]
    return "\n".join([*prose(opening, width), "", *labelled(rows, width)])


def _clock(seconds: float) -> str:
    """`3:07`, `1:02:45`."""
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, seconds_left = divmod(rest, 60)
    if hours:
        return f"{hours}:{minutes:02d}:{seconds_left:02d}"
    return f"{minutes}:{seconds_left:02d}"
