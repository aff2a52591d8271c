"""What is said at the one prompt of an evening, beside the screens that other commands share."""

from planner.domain.definition import Definition
from planner.domain.quantity import format_number
from planner.domain.run import Proposal, Run
from planner.errors import LedgerError, PlannerError
from planner.history import History
from planner.models.findings import Recommendation
from planner.report.text import phrases
from planner.report.text.best import best_rows
from planner.report.text.layout import columns, labelled, prose, widest
from planner.report.text.recorded import news_of_best, recorded_text

_TIED = "\N{NO-BREAK SPACE}"
"""Keeps a letter and its word on one line; `prose` turns it into a blank."""
_WORDS = ("pass", "crash", "no-start", "errors", "wrong", "off", "stopped", "void")
_ELSE = ("own", "note", "show", "skip", f"?{_TIED}help", f"q{_TIED}quit")
ANSWERS = (
    ("Answer", ", ".join(f"{word[0]}{_TIED}{word}" for word in _WORDS)),
    ("", f"more after it, as c{_TIED}85s; u{_TIED}undo, {', '.join(_ELSE)}"),
)
"""The rows that stand in a proposal in place of the commands that answer it."""
_OWED = (
    ("c", "it crashed while it ran"),
    ("n", "it did not start"),
    ("p", "it held to the end"),
    ("v", "it was not run, or says nothing"),
    ("again", "show it again, it is still to be run"),
)


def opening_text(
    history: History, best: Recommendation, everyday: Recommendation | None, width: int
) -> str:
    """Where the study stands: runs and minutes, then the best setting."""
    failed = sum(run.outcome.failed for run in history.evidence)
    runs = f"{phrases.counted(len(history.evidence), 'run')}, {failed} failed"
    available, left = history.definition.goal.minutes, history.minutes_left
    minutes = f"{phrases.minutes(history.minutes_spent)} spent"
    if available is not None and left is not None:
        minutes += f" of {format_number(available)}, {format_number(round(left, 1))} left"
    first = prose(f"{history.definition.goal.name}: {runs}; {minutes}.", width, hang=2)
    rows = best_rows(history.definition, best, everyday)
    return "\n".join([*first, *labelled(rows, width)])


def late_text(proposal: Proposal, history: History, width: int) -> str:
    """That the evening has room for this run alone, or not even for that; else empty."""
    left, takes = history.minutes_left, proposal.minutes
    if left is None or left >= 2 * takes:
        return ""
    what = "for this run alone" if left >= takes else "and this run takes more than that"
    verb = "is" if phrases.minutes(left).startswith("1 ") else "are"
    return "\n".join(prose(f"Late: {phrases.minutes(left)} {verb} left, {what}.", width, hang=2))


def first_run_text(definition: Definition, width: int) -> str:
    """What to show before anything is proposed in earnest."""
    return "\n".join(
        prose(
            "No run is on record yet. Show first that stock holds: run"
            f" {definition.workload.name} as the machine stands, then type: own pass",
            width,
        )
    )


def owed_text(proposal: Proposal, history: History, width: int) -> str:
    """The question that comes first when the machine was started anew since the asking."""
    where = phrases.setting(history.definition, proposal.settings)
    lines = prose(
        f"Run {proposal.number} ({where}) was asked for before this machine was last started,"
        " and has no answer yet. What happened?",
        width,
    )
    return "\n".join([*lines, "", *("  " + line for line in columns(_OWED))])


def taken_text(run: Run, history: History, width: int) -> str:
    """The confirmation that `record` gives, and what it leaves out of what was typed."""
    definition = history.definition
    lines = [recorded_text(run, definition, width), *news_of_best(history, run, width)]
    if more := _more(run, definition):
        lines += prose(f"With it: {'; '.join(more)}.", width, hang=2)
    return "\n".join(lines)


def _more(run: Run, definition: Definition) -> list[str]:
    told = [f"{n} {phrases.in_unit(definition, n, v)}" for n, v in run.readings.items()]
    told += [f"{name} {format_number(value)}" for name, value in run.subscores.items()]
    told += [f"seen: {run.symptom}"] if run.symptom else []
    told += [f"suspect {run.suspect}"] if run.suspect else []
    return told + ([f"note: {run.note}"] if run.note else [])


def mending_text(run: Run, definition: Definition, width: int) -> str:
    """What is on record of a run that is to be answered anew."""
    where = phrases.setting(definition, run.settings)
    return "\n".join(
        prose(
            f"Run {run.number} ({where}) is on record as {phrases.ending(run)}. What was it really?"
            " Tell all of it anew; v strikes it; u goes one further back; Enter keeps it as it is.",
            width,
        )
    )


def elsewhere_text(run: Run) -> str:
    """That another window told how a run ended."""
    return f"Run {run.number} was answered in another window: {phrases.ending(run)}."


def refused_text(why: str, width: int) -> str:
    """That a line was not taken, and why."""
    end = "" if why.endswith((".", "?")) else "."
    return "\n".join(prose(f"Nothing was recorded: {why}{end}", width, hang=2))


def fault_text(fault: PlannerError, proposal: Proposal | None, width: int) -> str:
    """Why nothing can be asked for, and what can be done; `proposal`: pending all the same."""
    if isinstance(fault, LedgerError):
        way = "Press Enter to try again."
    elif proposal is not None:
        way = f"Until it is mended the last good one stands, and run {proposal.number} counts."
    else:
        way = "Mend it, then press Enter. Until then runs of your own can be recorded."
    return "\n".join([*prose(f"Error: {fault}", width, hang=2), *prose(way, width)])


def skip_text(proposal: Proposal, history: History, suffix: str, width: int) -> str:
    """Why a proposal cannot be skipped, and what can be done instead."""
    knob = history.definition.searched
    name = knob.name if knob else next(iter(history.definition.knobs))
    lines = prose(
        f"Nothing was recorded, and run {proposal.number} stays. Without a new outcome the same"
        " setting would only be asked for again. Instead:",
        width,
    )
    rows = [
        (f"own {name}=VALUE pass", "run another value, and tell how that ended"),
        ("study.toml", f"narrow the range of {name} or lower its ceiling; Enter takes it over"),
        (f"planner close{suffix}", "end the search"),
    ]
    return "\n".join([*lines, *_paired(rows, width)])


def closed_hint(pending: Proposal | None, undo: bool, width: int) -> str:
    """What may still be typed once the study is closed."""
    text = "Enter leaves; show, plot and own runs go on."
    if undo:
        text = f"u takes the last answer back. {text}"
    if pending is not None:
        text = f"Run {pending.number} has no answer yet: tell it, if it was run. {text}"
    return "\n".join(prose(text, width))


def leaving_text(history: History | None, pending: Proposal | None, suffix: str, width: int) -> str:
    """What is pending, and that nothing is lost; `history`: None where it cannot be read now."""
    if history is None:
        text = "What was confirmed is on record."
    elif pending is not None:
        where = phrases.setting(history.definition, pending.settings)
        text = f"Run {pending.number} ({where}) is pending, all before it is on record."
    else:
        text = "No run is pending, all that was confirmed is on record."
    return "\n".join(prose(f"{text} Nothing is lost; go on with planner guide{suffix}", width))


def doubt_text(seconds: float | None, score: float | None, best: float | None, width: int) -> str:
    """Why an answer is asked about once more; what is None is no reason."""
    parts = []
    if seconds is not None:
        parts.append(f"the run was shown only {seconds:.1f} s ago")
    if score is not None and best is not None:
        parts.append(f"score {format_number(score)} lies far off the best, {format_number(best)}")
    text = "; ".join(parts)
    return "\n".join(prose(f"{text[:1].upper()}{text[1:]}.", width))


def _paired(rows: list[tuple[str, str]], width: int) -> list[str]:
    """Pairs in two columns, or one under the other where they do not fit."""
    aligned = ["  " + line for line in columns(rows)]
    if widest(aligned) <= width:
        return aligned
    return [line for what, text in rows for line in ("  " + what, *prose(text, width, indent=4))]
