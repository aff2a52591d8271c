"""All runs in one table."""

from collections.abc import Iterator

from planner.domain.knob import Knob
from planner.domain.quantity import format_number
from planner.report.account.naming import cause_words, run_anchor
from planner.report.account.nouns import Account, Made
from planner.report.sheet.settings import at_own_risk
from planner.report.text import phrases
from planner.report.written.blocks import (
    Heading,
    Link,
    PageBlock,
    Paragraph,
    Strong,
    Table,
    Words,
)

_OWN = "none, own run"


def overview_blocks(account: Account) -> Iterator[PageBlock]:
    """All runs in one table."""
    yield Heading(2, "The runs at a glance", "runs")
    if not account.made:
        yield Paragraph("None yet.")
        return
    knobs = phrases.traced(account.history.definition) if account.followed else []
    turned = [knob.name for knob in knobs] or ["Turned"]
    blamed = ["Blamed most on"] if any(made.shares for made in account.made) else []
    scored = ["Score"] if any(made.run.score is not None for made in account.made) else []
    head = ("Run", *turned, "Chance stated", "Ended", *blamed, *scored, "Minutes")
    rows = tuple(_glance(account, knobs, made, blamed, scored) for made in account.made)
    yield Table(head, rows, "The runs at a glance")
    if any(made.first_score or made.beaten is not None for made in account.made):
        yield Paragraph("A score marked * was the best that could be claimed by then.")


def _glance(
    account: Account, knobs: list[Knob], made: Made, blamed: list[str], scored: list[str]
) -> tuple[Words, ...]:
    """A row; `blamed`, `scored`: the headings of columns that may be missing."""
    run = made.run
    values = [knob.show(run.ran[knob.name]) for knob in knobs]
    best = "*" if made.first_score or made.beaten is not None else ""
    score = "" if run.score is None else f"{format_number(float(f'{run.score:.7g}'))}{best}"
    stated = _OWN if run.asked is None else phrases.chance(run.asked.body["pass_probability"])
    ended: Words = str(run.outcome)
    if at_own_risk(account.history, run):
        ended = (f"{run.outcome}, ", Strong("AT YOUR OWN RISK"))
    return (
        Link(str(run.number), run_anchor(run.number)),
        *(values or [phrases.counted(len(made.turned), "knob") if made.turned else "none"]),
        stated,
        ended,
        *([cause_words(next(iter(made.shares), None))] if blamed else []),
        *([score] if scored else []),
        f"{run.minutes:.1f}",
    )
