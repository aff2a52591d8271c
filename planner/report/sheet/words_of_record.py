"""Ceilings, cautions, attached files and the ledger's head in words."""

from collections.abc import Iterator

from planner.domain.quantity import with_unit
from planner.report.sheet.nouns import CeilingLine, Sheet
from planner.report.text import phrases
from planner.report.written.blocks import Block, Digits, Facts, Files, Heading, Paragraph, Table

_CAUTIONS = (
    "These values held on one machine under the conditions told here. Another sample of the same"
    " parts may fail at them, or be damaged: begin at stock, go up in small steps, under ceilings"
    " of your own.",
    "Too much voltage or heat damages parts for good, and a crash can corrupt the drive in use."
    " Back up first, know how to clear the firmware, watch temperatures, stay with the machine,"
    " and leave mains wiring to licensed people.",
    "A score is one run, and a pass is not stability: what bears a setting out stands beside it."
    " More in the planner's docs/cautions.md.",
)


def ceiling_blocks(sheet: Sheet) -> Iterator[Block]:
    """The ceilings as the study has them now."""
    yield Heading(2, "Ceilings")
    if not sheet.ceilings:
        yield Paragraph("None are filled in.")
        return
    head = ("Value", "Everyday", "Own risk", "Hard stop")
    yield Table(head, tuple(_ceiling_row(line) for line in sheet.ceilings), "Ceilings")
    yield Paragraph(
        "As the study has them now. Nothing above everyday is proposed unless the risk was"
        " accepted, and nothing past the hard stop; a person's own runs are recorded whatever they"
        " are."
    )


def caution_blocks(sheet: Sheet) -> Iterator[Block]:
    """What a reader should know before setting any of it."""
    yield Heading(2, "Before you set any of this")
    if sheet.risky:
        yield Paragraph(
            "What is marked AT YOUR OWN RISK lies above the everyday ceiling of this study: it may"
            " wear parts out soon or kill them at once, and warranties as a rule do not cover it."
        )
    for text in _CAUTIONS:
        yield Paragraph(text)


def file_blocks(sheet: Sheet) -> Iterator[Block]:
    """Attached files by their hash."""
    if not sheet.attached:
        return
    yield Heading(2, "Attached")
    yield Files(sheet.attached)
    yield Paragraph(
        "The ledger does not speak of these files. To check that a copy is the one meant, compare"
        " its SHA-256."
    )


def ledger_blocks(sheet: Sheet) -> Iterator[Block]:
    """The head, what it proves and how to check it."""
    head = sheet.head
    yield Heading(2, "Ledger")
    yield Facts(
        (
            ("Entries", str(head.seq)),
            ("Head", Digits(head.chain)),
            ("Check", Digits(f"planner check --head {head.seq}:{head.chain}")),
        )
    )
    yield Paragraph(
        "The ledger is the append-only record of every run behind this document, and its head"
        f" stands for all {phrases.counted(head.seq, 'entry', 'entries')} up to it. Against a"
        " head that was given away earlier it is tamper-evident: the command above, typed in the"
        " study's folder, says whether anything up to there was changed, added or lost. It is no"
        " proof of honesty: it does not say that an entry was true when it was written, nor when"
        " that was."
    )


def _ceiling_row(line: CeilingLine) -> tuple[str, ...]:
    everyday, own_risk, hard_stop, accepted = (
        "-" if value is None else with_unit(value, line.unit)
        for value in (line.everyday, line.own_risk, line.hard_stop, line.accepted)
    )
    if line.accepted is not None:
        own_risk += f", accepted up to {accepted}"
    return (line.name, "stock (left blank)" if line.stock_holds else everyday, own_risk, hard_stop)
