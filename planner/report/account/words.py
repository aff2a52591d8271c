"""What a report says and in which order."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

from planner.report.account.nouns import Account
from planner.report.account.words_of_job import condition_blocks, job_blocks, repeat_blocks
from planner.report.account.words_of_knobs import knob_blocks
from planner.report.account.words_of_overview import overview_blocks
from planner.report.account.words_of_runs import run_blocks
from planner.report.sheet.words import in_short, study_blocks
from planner.report.sheet.words_of_claims import claim_blocks, unclaimed_words
from planner.report.sheet.words_of_record import (
    caution_blocks,
    ceiling_blocks,
    file_blocks,
    ledger_blocks,
)
from planner.report.sheet.words_of_search import search_blocks
from planner.report.text.confidence import claim_rows
from planner.report.text.gap import response_rows, standing_rows, target_rows, target_title
from planner.report.written.blocks import Facts, Heading, PageBlock
from planner.report.written.page import page_of

TITLE = "Report of the study "
"""How every report begins, by which one is known again."""


def report_text(account: Account) -> str:
    """The whole page; ends with a line feed."""
    return page_of(_title(account), blocks_of(account), contents="Parts of this report")


def blocks_of(account: Account) -> list[PageBlock]:
    """The whole report, block by block; every part can be named."""
    found, parts = list(_blocks(account)), 0
    for place, block in enumerate(found):
        if isinstance(block, Heading) and block.level == 2:
            parts += 1
            found[place] = replace(block, anchor=block.anchor or f"part-{parts}")
    return found


def _title(account: Account) -> str:
    return f"{TITLE}{account.sheet.study}"


def _blocks(account: Account) -> Iterator[PageBlock]:
    sheet = account.sheet
    yield Heading(1, _title(account))
    yield from in_short(sheet)
    yield from caution_blocks(sheet)
    yield from study_blocks(sheet)
    yield from job_blocks(account)
    yield from condition_blocks(account)
    yield from _pictures(account)
    yield from chain.from_iterable(map(claim_blocks, sheet.claims))
    yield from unclaimed_words(sheet)
    yield from search_blocks(sheet)
    yield from _claim(account)
    yield from knob_blocks(account)
    yield from _gap(account)
    yield from overview_blocks(account)
    yield from run_blocks(account)
    yield from ceiling_blocks(sheet)
    yield from file_blocks(sheet)
    yield from repeat_blocks(account)
    yield from ledger_blocks(sheet)


def _pictures(account: Account) -> Iterator[PageBlock]:
    if account.drawn:
        yield Heading(2, "Pictures")
        yield from account.drawn


def _claim(account: Account) -> Iterator[PageBlock]:
    """What a claim of the setting to keep takes; nothing where none is likely to hold."""
    rows = claim_rows(account.history.definition, account.best)
    if rows and account.sheet.search is not None:
        yield Heading(3, "What a claim of it takes")
        yield Facts(tuple(rows))


def _gap(account: Account) -> Iterator[PageBlock]:
    """Where the score stands against the scores to beat; nothing before one can be claimed."""
    table, definition = account.gap, account.history.definition
    if table is None:
        return
    yield Heading(2, "The score, and what is to beat")
    rows = standing_rows(definition, table) + response_rows(definition, table)
    yield Facts(tuple(_joined(rows)))
    for target in table.targets:
        yield Heading(3, target_title(target))
        yield Facts(tuple(_joined(target_rows(definition, table, target))))


def _joined(rows: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Rows without a label of their own joined to the row above."""
    found: list[tuple[str, str]] = []
    for label, text in rows:
        if label or not found:
            found.append((label, text))
        else:
            found[-1] = (found[-1][0], f"{found[-1][1]}; {text}")
    return found
