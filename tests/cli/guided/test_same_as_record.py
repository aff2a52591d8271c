"""A guided evening leaves the history that the same runs leave through `next` and `record`."""

import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.cli.demo import evening
from planner.domain.run import Proposal, Run
from planner.rigs.demo import DemoRig
from planner.rigs.demo_definition import DEFINITION
from planner.strategies import STRATEGIES
from tests.cli.guided.held import Typed, held
from tests.cli.guided.lines import LETTERS, typed
from tests.study.makers import bench_tables, events_of, holding, known, look
from tests.study.stories import Facts, runs


def entries(study: Study) -> list[Any]:
    """Kind and body of every entry."""
    return [(event.kind, event.body) for event in events_of(study)]


@settings(max_examples=60)
@given(st.lists(st.tuples(runs(), st.booleans()), max_size=5))
def test_any_evening_is_as_if_recorded(told: list[tuple[Facts, bool]]) -> None:
    """Answers and own runs with all their facts: entry for entry, to the byte of each body."""
    guided, recorded = Study.create(bench_tables()), Study.create(bench_tables())
    held(guided, *(typed(facts, own) for facts, own in told))
    for facts, own in told:
        asked = recorded.next()
        if own:
            recorded.record(**facts)
        elif asked is not None:
            rest = {name: fact for name, fact in facts.items() if name != "settings"}
            recorded.record(**rest, number=asked.number)
    recorded.next()
    assert known(guided.history) == known(recorded.history)
    assert entries(guided) == entries(recorded)


@pytest.mark.parametrize("strategy", STRATEGIES)
def test_a_search_runs_to_the_same_end(strategy: str) -> None:
    """Proposal for proposal, until it closes with exit code 3."""
    machine = holding(4600)
    guided, recorded = (Study.create(bench_tables(strategy=strategy)) for _ in range(2))
    lines = []
    while (asked := recorded.next()) is not None:
        recorded.record(machine(asked.settings), number=asked.number)
        lines.append(LETTERS[machine(asked.settings)])
    session = held(guided, *lines)
    assert (session.code, session.left) == (3, 0)
    assert entries(guided) == entries(recorded)


def test_no_proposal_is_shown_before_it_is_on_record() -> None:
    """At every prompt the run that it names is pending in the ledger."""
    study = Study.create(bench_tables())
    seen: list[Proposal | None] = []
    lines: list[Typed] = []
    for letter in "pcp":
        lines += [lambda: seen.append(study.pending), letter]
    said = held(study, *lines).said
    assert None not in seen
    for proposal in seen:
        assert proposal is not None
        assert f"run {proposal.number}> " in said


@pytest.mark.parametrize("seed", [1, 2])
def test_an_evening_on_the_rig_ends_as_the_demo_does(seed: int) -> None:
    """A simulated machine at the other side of the prompt: the same runs, the same verdict."""
    played, guided = (Study.create(tomllib.loads(DEFINITION)) for _ in range(2))
    list(evening(played, DemoRig(seed)))
    stock, *rest = played.history.runs
    guided.record(stock.outcome, settings={}, **as_told(stock))
    session = held(guided, *(typed(as_told(run) | {"outcome": run.outcome}) for run in rest))
    assert (session.code, session.left) == (3, 0)
    assert [look_of(run) for run in guided.history.runs] == [
        look_of(run) for run in played.history.runs
    ]
    assert guided.closing() == played.closing()
    assert look(guided.next()) is None


def as_told(run: Run) -> Facts:
    """What was told of a run on the rig."""
    names = ("score", "subscores", "readings", "minutes", "failed_after_s")
    return {name: getattr(run, name) for name in names}


def look_of(run: Run) -> tuple[Any, ...]:
    """What was run and what came of it, by the order of recording."""
    return (run.outcome, run.ran, run.score, run.subscores, run.readings, run.minutes)
