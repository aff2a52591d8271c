"""Every run in order, in words: what was thought before it, how it ended, what it changed."""

from collections.abc import Iterator

from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number, with_unit
from planner.domain.run import Change, Run
from planner.report.account.naming import cause_words, run_anchor
from planner.report.account.nouns import Account, Made
from planner.report.pictures.words import edge_lies
from planner.report.sheet.words_of_claims import recorded
from planner.report.text import phrases
from planner.report.text.proposal import run_rows as proposal_rows
from planner.report.text.recorded import flags
from planner.report.written.blocks import (
    Facts,
    Heading,
    PageBlock,
    Paragraph,
    Strong,
    Words,
)

Rows = Iterator[tuple[str, Words]]
PageBlocks = Iterator[PageBlock]
_NAMED, _LEAST = 4, 0.05
"""So many knobs are named in a blame, those with at least this share."""


def run_blocks(account: Account) -> PageBlocks:
    """Run by run."""
    if not (account.made or account.history.pending):
        return
    yield Heading(2, "Run by run", "run-by-run")
    yield Paragraph(
        "Before: what stood in the ledger before the run was made. After: what was recorded, and"
        " what it changed."
    )
    if account.followed is None and any(made.shares for made in account.made):
        yield Paragraph(
            "Blame is as all runs together tell it today, not as it was told on the evening."
        )
    for before, made in zip((None, *account.made), account.made, strict=False):
        for words in made.told:
            yield Paragraph(Strong(f"Between the runs: {words}."))
        number = made.run.number
        yield Heading(3, f"Run {number}: {phrases.ending(made.run)}", run_anchor(number))
        booted = _booted(made.run, before.run if before else None)
        yield Facts((*_before(made), *booted, *_after(account, made), *_changed(account, made)))
    for words in account.told_last:
        yield Paragraph(Strong(f"After the last run: {words}."))
    yield from _pending(account)


def _pending(account: Account) -> PageBlocks:
    """Runs that were asked for and have no answer yet."""
    history = account.history
    for proposal in history.pending.values():
        yield Heading(3, f"Run {proposal.number}: asked for, no answer yet")
        where = phrases.setting(history.definition, proposal.settings)
        yield Facts((("Setting", where), *proposal_rows(proposal)))


def _before(made: Made) -> Rows:
    run, asked = made.run, made.run.asked
    yield "Setting", phrases.setting(made.definition, run.settings)
    if made.turned:
        yield "Turned", "; ".join(map(_turned, made.turned))
    if asked is None:
        yield "Before", "chosen by the person: no reason and no chance were stated"
        return
    body = asked.body
    yield "Before", f"{body['reason']}"
    stated = f"{phrases.chance(body['pass_probability'])} to pass"
    yield "Stated", f"{stated}, about {phrases.minutes(body['minutes'])}, all in"
    if body.get("start_when"):
        yield "To start", body["start_when"]
    if body.get("at_own_risk"):
        yield "Risk", Strong(phrases.own_risk(body["at_own_risk"]))


def _booted(run: Run, before: Run | None) -> Rows:
    """That the machine was started anew before it, as told or as its failure before meant."""
    if run.boot_told and (before is None or before.boot != run.boot):
        yield "Boot", "cold: off before it" if run.cold else "warm: started anew before it"


def _turned(change: Change) -> str:
    before, after = (with_unit(v, change.unit) for v in (change.before, change.after))
    return f"{change.knob} {before} to {after}"


def _after(account: Account, made: Made) -> Rows:
    run = made.run
    yield "After", _ended(account, run)
    differs = [
        f"{name} {made.definition.knobs[name].show(value)}"
        for name, value in run.ran.items()
        if name in made.definition.knobs and run.settings.get(name, value) != value
    ]
    if differs:
        yield "Really ran", ", ".join(differs)
    if run.score is not None:
        yield "Score", _score(run)
    if run.readings:
        yield "Readings", ", ".join(_readings(account, run))
    for label, text in (("Symptom", run.symptom), ("Suspected", run.suspect), ("Note", run.note)):
        if text:
            yield label, text
    for flag in flags(run, made.definition):
        yield "Mind", Strong(flag)
    if run.amended:
        yield "Amended", "once" if run.amended == 1 else f"{run.amended} times"


def _ended(account: Account, run: Run) -> str:
    text = f"{phrases.ending(run)}; {phrases.minutes(run.minutes)} all in, {recorded(run.time)}"
    if run.workload != account.history.definition.workload.name:
        text = f"{run.workload}: {text}"
    if run.outcome is Outcome.VOID:
        text += "; it says nothing of the setting"
    if run.capped:
        text += f"; capped by {run.capped}: it holds, but is no best"
    return text


def _score(run: Run) -> str:
    assert run.score is not None, run.number
    parts = [f"{name} {format_number(value)}" for name, value in run.subscores.items()]
    return f"{format_number(run.score)} ({', '.join(parts)})" if parts else format_number(run.score)


def _readings(account: Account, run: Run) -> Iterator[str]:
    for name, value in run.readings.items():
        yield f"{name} {phrases.in_unit(account.history.definition, name, value)}"


def _changed(account: Account, made: Made) -> Rows:
    if made.first_score:
        yield "Changed", "the first score that can be claimed"
    if made.beaten is not None and made.run.score is not None:
        gain = made.run.score / made.beaten - 1 if made.beaten > 0 else 0.0
        yield "Changed", f"the best score, before {format_number(made.beaten)} ({gain:+.2%})"
    if made.hardest:
        yield "Held harder", f"than any run before: {', '.join(made.hardest)}"
    if made.edge is not None and account.followed is not None:
        before, after = (edge_lies(account.followed, interval) for interval in made.edge)
        if before != after:
            lay = before.removeprefix("the edge ").replace("lies", "lay", 1)
            place = f"{account.beside} " if account.beside else ""
            yield "Edge", f"{place}{after.removeprefix('the edge ')}; before it {lay}"
    if made.shares:
        yield "Blamed on", _blame(made)


def _blame(made: Made) -> str:
    """The likeliest causes with their shares."""
    named = [(n, share) for n, share in made.shares.items() if share >= _LEAST][:_NAMED]
    shown = [f"{cause_words(name)} {share:.0%}" for name, share in named]
    return ", ".join(shown) or "many knobs a little"
