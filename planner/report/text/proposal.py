"""What to run next, on a screen as small as a phone's."""

from collections.abc import Sequence

from planner.domain.outcome import Outcome
from planner.domain.quantity import with_unit
from planner.domain.run import Change, Proposal
from planner.history import History
from planner.models.findings import Recommendation
from planner.report.text import phrases
from planner.report.text.best import best_rows
from planner.report.text.broken_notes import notes_to_tell
from planner.report.text.layout import columns, labelled, prose, widest
from planner.report.text.outlook import barred_rows, expected_rows
from planner.report.text.read_back import to_read_back

_OTHERS = ", ".join(o for o in Outcome if o is not Outcome.PASS)


def proposal_text(
    proposal: Proposal,
    history: History,
    best: Recommendation,
    everyday: Recommendation | None,
    suffix: str,
    width: int,
    answers: Sequence[tuple[str, str]] = (),
) -> str:
    """The proposal in bench language.

    `everyday`: the best setting under everyday ceilings, where risk was accepted.
    `suffix`: what a command needs after it to mean this study. `answers`: labelled rows on how to
    answer, in place of the commands.
    """
    definition = history.definition
    lines = prose(f"Run {proposal.number} of {definition.goal.name}", width)
    lines += ["", *_changes(proposal.changes, width), ""]
    for warning in warnings(proposal, history):
        lines += [*prose(warning, width), ""]
    rows = [
        *run_rows(proposal),
        *expected_rows(history, proposal.settings),
        *barred_rows(history, proposal.settings),
        *best_rows(definition, best, everyday),
        *(answers or (("Answer", f"planner record pass{suffix}"), ("", f"or {_OTHERS}"))),
    ]
    return "\n".join(lines + labelled(rows, width))


def answer_owed_text(proposal: Proposal, history: History, suffix: str, width: int) -> str:
    """The question that comes first when the machine was started anew since the asking."""
    where = phrases.setting(history.definition, proposal.settings)
    lines = prose(
        f"Run {proposal.number} ({where}) was asked for before this machine was last started,"
        " and has no answer yet. What happened?",
        width,
    )
    answers = [
        (f"planner record crash{suffix}", "it crashed while it ran"),
        (f"planner record no-start{suffix}", "it did not start"),
        (f"planner record pass{suffix}", "it held to the end"),
        (f"planner record void{suffix}", "it was not run, or says nothing"),
        (f"planner next --again{suffix}", "show it again, it is still to be run"),
    ]
    aligned = columns(answers)
    if widest(aligned) > width - 2:
        aligned = [line for command, what in answers for line in (command, f"  {what}")]
    return "\n".join([*lines, "", *("  " + line for line in aligned)])


def at_work_text(number: int) -> str:
    """That a run is not the person's to make."""
    return f"planner drive is running this one now, and records run {number} itself."


def after_no_start(history: History) -> bool:
    """Whether the last run that counts failed to start."""
    return bool(history.evidence) and history.evidence[-1].outcome is Outcome.NO_START


def warnings(proposal: Proposal, history: History) -> list[str]:
    """What a person must know before dialling in."""
    found = [phrases.own_risk(proposal.at_own_risk)] if proposal.at_own_risk else []
    if after_no_start(history):
        found.append(
            "The last run did not start, so the firmware may be back at stock: check what is set"
            " before you change anything."
        )
    if raised := to_read_back(proposal, history):
        shown = ", ".join(
            f"{c.knob} {history.definition.knobs[c.knob].show(c.after)}" for c in raised
        )
        found.append(f"It is late: read back what you set before you start: {shown}.")
    if notes := notes_to_tell(history, proposal.settings):
        found.append(f"Note: it breaks {'; '.join(notes)}.")
    return found


def run_rows(proposal: Proposal) -> list[tuple[str, str]]:
    """Labelled lines on the run: what, when to start, why, its chance, its minutes."""
    start = [("Start", proposal.start_when)] if proposal.start_when else []
    return [
        ("Run", f"{proposal.workload}, {phrases.minutes(proposal.run_minutes)}"),
        *start,
        ("Why", proposal.reason),
        ("Chance", f"{phrases.chance(proposal.pass_probability)} to pass"),
        ("Takes", f"about {phrases.minutes(proposal.minutes)}, all in"),
    ]


def _changes(changes: tuple[Change, ...], width: int) -> list[str]:
    if not changes:
        return ["  nothing to change"]
    rows = [
        (c.knob, with_unit(c.before, c.unit), "->", with_unit(c.after, c.unit)) for c in changes
    ]
    aligned = ["  " + line for line in columns(rows, right=(1,))]
    if widest(aligned) <= width:
        return aligned
    return [
        line
        for name, before, arrow, after in rows
        for line in (f"  {name}", f"    {before} {arrow} {after}")
    ]
