"""What was learnt about each knob, in words."""

from collections.abc import Iterator

from planner.domain.knob import Value
from planner.report.account.naming import run_anchor
from planner.report.account.nouns import Account, Learnt, Pays
from planner.report.pictures.words import edge_lies
from planner.report.text import phrases
from planner.report.written.blocks import Facts, Heading, Link, PageBlock, Paragraph, Words

_HARDEST, _EASIEST = "Hardest that held", "Easiest that failed"
_ALONE = (
    "What held and what failed is told whatever the other knobs stood at: a failure beside a knob"
    " may be another one's."
)


def knob_blocks(account: Account) -> Iterator[PageBlock]:
    """Every knob in the study's order."""
    yield Heading(2, "What was learnt about each knob", "knobs")
    yield Paragraph(_edges_words(account))
    for learnt in account.learnt:
        yield Heading(3, learnt.knob.name)
        yield Facts(tuple(_rows(account, learnt)))


def _edges_words(account: Account) -> str:
    target = account.history.definition.goal.target
    if account.followed is None:
        beside = "the others as in the setting to keep"
    else:
        beside = "the others at the study's values"
    text = f"An edge is the value at which {target:.0%} of full runs pass by that knob, {beside}."
    return f"{text} {_ALONE}"


def _rows(account: Account, learnt: Learnt) -> Iterator[tuple[str, Words]]:
    knob = learnt.knob
    yield "Values", f"{knob.show(knob.stock)} at stock, {knob.show(learnt.kept)} kept"
    if knob.supports:
        yield "Moves the edges of", ", ".join(knob.supports)
    yield "Tried", _tried(learnt.values)
    if learnt.values > 1:
        for label, found in ((_HARDEST, learnt.held), (_EASIEST, learnt.failed)):
            if found is not None:
                yield label, _where(learnt, found)
    for value, (held, count) in learnt.passes.items():
        yield f"At {knob.show(value)}", f"{held} of {phrases.counted(count, 'run')} held"
    if learnt.edge is not None:
        edge = learnt.edge
        lies = edge_lies(knob, edge.interval).removeprefix("the edge ")
        yield "Edge", f"{lies}, by {phrases.counted(edge.runs, 'run')}"
    elif knob.grid is not None and not knob.supports:
        yield "Edge", "no run tells of it yet"
    if learnt.blamed is not None:
        yield "Blamed for", _blamed(account, learnt.blamed)
    if learnt.pays is not None:
        yield "Gives", _pays(learnt, learnt.pays)


def _tried(values: int) -> str:
    return f"{values} values" if values > 1 else "one value only" if values else "not yet"


def _where(learnt: Learnt, found: tuple[Value, int]) -> Words:
    value, number = found
    return f"{learnt.knob.show(value)}, first in ", Link(f"run {number}", run_anchor(number))


def _blamed(account: Account, blamed: float) -> str:
    failed = phrases.counted(account.sheet.failed_runs, "failed run")
    return f"{blamed:.1f} of {failed}, shares of blame summed"


def _pays(learnt: Learnt, pays: Pays) -> str:
    knob = learnt.knob
    way = f"from {knob.show(pays.before)} to {knob.show(pays.after)}"
    low, high = (f"{end:+.2%}" for end in pays.interval)
    sure = f"{pays.level:.0%} interval: {low} to {high}"
    return f"{pays.middle:+.2%} of score {way} ({sure})"
