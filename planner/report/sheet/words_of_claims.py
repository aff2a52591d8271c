"""A claimed score in words: the run that made it, its setting, what bears it out."""

import re
from collections.abc import Iterator

from planner.domain.quantity import format_number, with_unit
from planner.report.sheet.claimed import Claimed, Conditions, Evidence, Measured, Repeats
from planner.report.sheet.nouns import Sheet
from planner.report.sheet.settings_words import OWN_RISK, risk_words, run_table
from planner.report.text import phrases
from planner.report.written.blocks import Block, Facts, Heading, Paragraph, Strong, Table, Words

_UTC = re.compile(r"(\d{4}-\d\d-\d\d)T(\d\d:\d\d:\d\d)(?:Z|\+00:00)")


def region(claim: Claimed) -> str:
    """Which ceilings the setting keeps to."""
    return OWN_RISK if claim.at_own_risk else "everyday"


def claim_blocks(claim: Claimed) -> Iterator[Block]:
    """All that is told of one claimed score."""
    score = format_number(claim.score)
    yield Heading(2, f"Score {score}: {claim.workload}, {region(claim)}")
    if claim.at_own_risk:
        yield Paragraph(risk_words(claim.at_own_risk))
    for note in _notes(claim):
        yield Paragraph(note)
    yield Facts(tuple(_score_rows(claim)))
    yield from _rule_blocks(claim)
    name = f"Complete setting of run {claim.run}"
    yield Heading(3, name)
    yield run_table(claim.lines, name)
    yield Heading(3, f"Conditions of run {claim.run}")
    yield Facts(tuple(_condition_rows(claim.workload, claim.conditions)))
    yield Heading(3, f"Evidence at exactly this setting, run {claim.run}")
    yield Facts(tuple(_evidence_rows(claim)))


def _rule_blocks(claim: Claimed) -> Iterator[Block]:
    """The study's own claim rules, each with how it stands."""
    if not claim.rules:
        return
    name = f"Claim rules, run {claim.run}"
    yield Heading(3, name)
    met: dict[bool | None, Words] = {True: "met", False: Strong("NOT MET"), None: "not seen"}
    rows = tuple((rule.rule, met[rule.met], rule.why) for rule in claim.rules)
    yield Table(("Rule", "Stands", "Found"), rows, name)
    yield Paragraph(
        "A checklist of the study's owner. Not seen is what the planner cannot judge; whoever"
        " takes the score does."
    )


def unclaimed_words(sheet: Sheet) -> list[Block]:
    """Scores on record that are not on the sheet."""
    if not sheet.unclaimed:
        return []
    many = sheet.unclaimed > 1
    return [
        Heading(2, "Scores that are not claimed"),
        Paragraph(
            f"{phrases.counted(sheet.unclaimed, 'score')} on record,"
            f" {'whose runs were' if many else 'whose run was'} capped, void or no pass."
        ),
    ]


def held_rows(evidence: Evidence) -> list[tuple[str, Words]]:
    """How many runs held at one setting, and what they bound alone."""
    if not evidence.runs:
        return [("Held", "not run at exactly this setting yet")]
    least = phrases.minutes(evidence.least_minutes)
    rows: list[tuple[str, Words]] = [
        (
            "Held",
            f"{evidence.passes} of {phrases.counted(evidence.runs, 'run')} (runs of {least} or"
            " more, and every failure)",
        ),
        (
            "Bound",
            f"at least {evidence.lower_bound:.1%} of such runs pass, {evidence.confidence:.0%} sure"
            " by these runs alone (Clopper-Pearson, one-sided)",
        ),
    ]
    return [*rows, ("Cold boots", f"{evidence.cold_boots or 'none'} among the passes")]


def _score_rows(claim: Claimed) -> Iterator[tuple[str, Words]]:
    yield "Score", f"{format_number(claim.score)} (run {claim.run}; a pass that nothing capped)"
    for name, value in claim.subscores:
        shown = "" if value is None else f"{format_number(value)} (run {claim.run})"
        yield f"Sub-score {name}", shown or "not recorded"


def _condition_rows(workload: str, run: Conditions) -> Iterator[tuple[str, Words]]:
    yield "Recorded", recorded(run.time)
    yield "Bench", run.bench or "not told"
    length = phrases.minutes(run.run_minutes)
    if run.run_minutes != run.nominal_minutes:
        length += f" (a full run is {phrases.minutes(run.nominal_minutes)})"
    yield "Workload", f"{workload}, {length}"
    yield "Boot", run.boot or "not told"
    for reading in run.readings:
        yield f"Reading {reading.name}", _reading(reading)
    yield "Chosen by", "the planner" if run.asked else "the person, a run of their own"
    if run.origin:
        yield "Taken in", f"recorded elsewhere, as {run.origin}; the time above is of taking it in"
    for what in run.changes_before:
        yield "Changed before it", what
    for what in run.changes_since:
        yield "Changed since", (Strong("The machine is not as it ran"), f": {what}")
    if run.amended:
        times = "once" if run.amended == 1 else f"{run.amended} times"
        yield "Amended", f"{times}; the first entry stays in the ledger"
    if run.symptom:
        yield "Symptom", run.symptom
    if run.note:
        yield "Note", run.note


def recorded(time: str) -> str:
    """A time of the ledger as people read it; as it stands where it is of another form."""
    match = _UTC.fullmatch(time)
    return f"{match[1]} {match[2]} UTC" if match else time or "not told"


def _reading(reading: Measured) -> Words:
    if reading.value is None:
        return "not recorded"
    shown = with_unit(reading.value, reading.unit)
    shown += f" ({reading.source})" if reading.source else ""
    if reading.stop is None:
        return shown
    return (f"{shown}, ", Strong(f"past its stop of {with_unit(reading.stop, reading.unit)}"))


def _evidence_rows(claim: Claimed) -> list[tuple[str, Words]]:
    rows = held_rows(claim.evidence)
    if claim.repeats is None:
        return [*rows, ("Run-to-run noise", "not known: scored there only once")]
    return [*rows, ("Run-to-run noise", _noise(claim.repeats))]


def _noise(repeats: Repeats) -> str:
    lowest, highest = (format_number(end) for end in (repeats.lowest, repeats.highest))
    mean, deviation = f"{repeats.mean:.7g}", f"{repeats.deviation:.3g}"
    share = f" ({repeats.deviation / repeats.mean:.2%})" if repeats.mean else ""
    return (
        f"{repeats.count} claimable scores from {lowest} to {highest}; mean {mean}, standard"
        f" deviation {deviation}{share}; the score above is the highest of them, a further run is"
        " likelier near the mean"
    )


def _notes(claim: Claimed) -> Iterator[Words]:
    for name, everyday, unit in claim.ceilings_then:
        then = f"{name} lay above its everyday ceiling when this ran, by the ceilings of then"
        if everyday is None:
            yield (Strong(then), ": none was filled in, and it was above stock.")
        else:
            yield (Strong(then), f": {with_unit(everyday, unit)}, and raised since.")
