"""Searches on what real memory did."""

import pytest

from planner import Study
from planner.trade.search_cost import best_split
from tests.oracles.dram_timing import (
    CELLS,
    LEVELS,
    TimingOracle,
    borderline_module,
    every_module,
)

every_timing = pytest.mark.parametrize("timing", CELLS)


def searched(oracle: TimingOracle) -> Study:
    """The study, closed, with the oracle's answers."""
    study = Study.create(oracle.definition, store="memory")
    while (proposal := study.next()) is not None:
        held = oracle.passes(float(proposal.settings[oracle.timing]))
        study.record("pass" if held else "crash", number=proposal.number)
    return study


@every_timing
def test_the_cheapest_search_brackets_the_published_edge(timing: str) -> None:
    """All modules hold 10.0 ns, none 7.5 ns: three tests at equal costs tell the five levels."""
    oracle, held, failed = every_module(timing), 0, len(LEVELS)  # the first is known to hold
    while (cells := failed - held) > 1:
        at = held + best_split(cells, 1, 1)
        held, failed = (at, failed) if oracle.passes(LEVELS[at]) else (held, at)
    assert (LEVELS[held], LEVELS[failed]) == (10.0, 7.5)
    assert len(oracle.asked) <= 3


@every_timing
def test_the_planner_keeps_a_sound_and_sharp_timing(timing: str) -> None:
    """It keeps a timing that all modules hold, at most one step easier than the last such
    one, and its interval of the edge meets the published bracket."""
    study = searched(every_module(timing))
    assert study.recommendation().settings[timing] in (10.0, 12.5)
    low, high = study.edges()[timing].interval
    assert low < 10.0
    assert high > 7.5


@every_timing
def test_passes_and_failures_that_do_not_overlap_are_reported_so(timing: str) -> None:
    """No module passed below a level that it failed at: passes and failures are separated."""
    assert searched(every_module(timing)).edges()[timing].separation.value == "separated"


@pytest.mark.parametrize("seed", range(20))
def test_a_lucky_pass_is_not_kept(seed: int) -> None:
    """14 passes in 52 at 7.5 ns are no stability: one pass there does not make it the answer."""
    assert searched(borderline_module(seed)).recommendation().settings["tRCD"] in (10.0, 12.5)
