"""What a sheet says and in which order, before it is written in any format."""

from collections.abc import Iterator

from planner.domain.quantity import format_number
from planner.report.sheet.claimed import Claimed
from planner.report.sheet.line import Line
from planner.report.sheet.nouns import Kept, Sheet
from planner.report.sheet.settings_words import value_words
from planner.report.sheet.words_of_claims import claim_blocks, region, unclaimed_words
from planner.report.sheet.words_of_record import (
    caution_blocks,
    ceiling_blocks,
    file_blocks,
    ledger_blocks,
)
from planner.report.sheet.words_of_rig import cost_rows
from planner.report.sheet.words_of_search import kept_label, search_blocks
from planner.report.text import phrases
from planner.report.written.blocks import Block, Facts, Heading, Strong, Table, Words

TITLE = "Settings sheet: "
"""How every sheet begins, by which one is known again."""


def title(sheet: Sheet) -> str:
    """The sheet's name."""
    return f"{TITLE}{sheet.study}"


def blocks_of(sheet: Sheet) -> list[Block]:
    """The whole sheet, block by block."""
    return [
        Heading(1, title(sheet)),
        *in_short(sheet),
        *study_blocks(sheet),
        *(block for claim in sheet.claims for block in claim_blocks(claim)),
        *unclaimed_words(sheet),
        *search_blocks(sheet),
        *ceiling_blocks(sheet),
        *caution_blocks(sheet),
        *file_blocks(sheet),
        *ledger_blocks(sheet),
    ]


def in_short(sheet: Sheet) -> list[Block]:
    """Each score and each setting to keep in a line."""
    rows = [_score_row(sheet, claim) for claim in sheet.claims]
    rows += [_kept_row(sheet, kept) for kept in sheet.search.kept] if sheet.search else []
    return [Facts(tuple(rows))] if rows else []


def _score_row(sheet: Sheet, claim: Claimed) -> tuple[str, Words]:
    said = f"{format_number(claim.score)} in run {claim.run}{_at(sheet, claim.lines)}"
    place = Strong(region(claim)) if claim.at_own_risk else region(claim)
    told: tuple[str | Strong, ...] = (f"{said}, ", place)
    if claim.unmet:
        told += (", ", Strong(f"{phrases.counted(len(claim.unmet), 'claim rule')} NOT MET"))
    return f"Best score, {claim.workload}", told


def _kept_row(sheet: Sheet, kept: Kept) -> tuple[str, Words]:
    where = _at(sheet, kept.lines).removeprefix(" at ") or "the setting below"
    if not kept.holds:
        return kept_label(sheet, kept), f"nothing is known to hold; the easiest is {where}"
    said = f"{where}, {phrases.chance(kept.pass_probability)} to pass"
    risk: Words = (f"{said}, ", Strong("AT YOUR OWN RISK")) if kept.at_own_risk else said
    return kept_label(sheet, kept), risk


def _at(sheet: Sheet, lines: tuple[Line, ...]) -> str:
    """The values of the searched knob, and of a frontier's second one."""
    searched = (sheet.knob, sheet.along)
    found = [line for line in lines if line.name in searched and line.ran is not None]
    shown = ", ".join(f"{line.name} {value_words(line, line.ran)}" for line in found)
    return f" at {shown}" if shown else ""


def study_blocks(sheet: Sheet) -> Iterator[Block]:
    """What was searched, how much was run, on what."""
    yield Heading(2, "Study and rig")
    aim = f"{sheet.aim} of {sheet.knob}" if sheet.knob else sheet.aim
    aim += f" along {sheet.along}" if sheet.along else ""
    rows: list[tuple[str, Words]] = [("Aim", aim), ("Runs", _runs(sheet))]
    if sheet.days:
        rows.append(("On", _days(sheet.days)))
    rows.append(("Bench minutes", format_number(round(sheet.minutes, 1))))
    rows += [("Told change", what) for what in sheet.changes]
    if sheet.rig.cooling:
        rows.append(("Cooling", sheet.rig.cooling))
    if sheet.cost is not None:
        rows += cost_rows(sheet.cost, sheet.rig)
    yield Facts(tuple(rows))
    if sheet.parts:
        yield _parts(sheet)


def _runs(sheet: Sheet) -> str:
    text = f"{sheet.runs} that count, {sheet.failed_runs} of them failed"
    return f"{text}; {sheet.void_runs} void besides" if sheet.void_runs else text


def _days(days: tuple[str, ...]) -> str:
    if len(days) == 1:
        return f"{days[0]} (UTC, as recorded)"
    return f"{days[0]} to {days[-1]}, {len(days)} days (UTC, as recorded)"


def _parts(sheet: Sheet) -> Table:
    if sheet.cost is None:
        return Table(("Part",), tuple((part.name,) for part in sheet.parts))
    return Table(
        ("Part", "Price"),
        tuple(
            (part.name, "not told" if part.price is None else format_number(part.price))
            for part in sheet.parts
        ),
    )
