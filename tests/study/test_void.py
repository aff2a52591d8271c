"""A voided run leaves no trace but its entry: only numbers differ."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.strategies import STRATEGIES
from tests.study.makers import bench_tables, facts, holding, known, look
from tests.study.stories import Facts, histories, record, runs

pytestmark = pytest.mark.slow


def without_numbers(study: Study) -> dict:
    """What is known of the runs that count, numbers aside."""
    told = known(study.history)
    numberless = [facts(r) | {"number": 0} for r in study.history.evidence]
    return told | {"runs": numberless, "next_number": 0}


@settings(max_examples=60)
@given(histories, st.lists(st.tuples(st.integers(0, 5), runs()), min_size=1, max_size=3))
def test_voided_is_never_run(told: list[Facts], slips: list[tuple[int, Facts]]) -> None:
    """Runs of one's own slipped in anywhere and struck at the end: the same proposal."""
    slipped, clean = Study.create(bench_tables()), Study.create(bench_tables())
    struck = []
    for place, right in enumerate(told):
        struck += [record(slipped, slip) for at, slip in slips if at == place]
        record(slipped, right)
        record(clean, right)
    for number in struck:
        slipped.amend(number, outcome="void")
    assert without_numbers(slipped) == without_numbers(clean)
    assert look(slipped.next()) == look(clean.next())


@settings(max_examples=60)
@given(histories, runs())
def test_recorded_as_void_is_amended_to_void(told: list[Facts], slip: Facts) -> None:
    """Either way it says nothing."""
    at_first, later, never = (Study.create(bench_tables()) for _ in range(3))
    for right in told:
        for study in (at_first, later, never):
            record(study, right)
    at_first.record("void", settings=slip["settings"])
    later.amend(record(later, slip), outcome="void")
    assert look(at_first.next()) == look(later.next()) == look(never.next())


@pytest.mark.parametrize("strategy", STRATEGIES)
@pytest.mark.parametrize("outcome", ["pass", "crash", "no-start"])
def test_a_voided_answer_is_asked_again(strategy: str, outcome: str) -> None:
    """The same setting, chance, minutes and reason as the proposal that it answered."""
    study, machine = Study.create(bench_tables(strategy=strategy)), holding(4600)
    for _ in range(3):
        asked = study.next()
        study.record(outcome, boot="cold", readings={"hot": 99})
        study.amend(asked.number, outcome="void")
        again = study.next()
        assert look(again) == look(asked)
        assert again.number == asked.number + 1
        study.record(machine(again.settings))


def test_a_struck_run_can_be_reinstated() -> None:
    """Void is an outcome like any other, and amended like any other."""
    study, plain = Study.create(bench_tables()), Study.create(bench_tables())
    for each in (study, plain):
        each.record("pass", settings={"clock": 4500}, score=900)
    study.amend(1, outcome="void")
    assert study.history.evidence == ()
    study.amend(1, outcome="pass")
    assert known(study.history) == known(plain.history)


def test_a_void_run_costs_no_minutes_and_moves_nothing() -> None:
    """The machine holds what it held, and the evening is as long as before."""
    study = Study.create(bench_tables())
    study.record("void", settings={"clock": 4500}, minutes=30, boot="cold")
    history = study.history
    assert (history.minutes_spent, history.boot, history.boot_is_cold) == (0, 1, False)
    assert history.machine == history.definition.stock
