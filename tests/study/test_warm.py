"""An object that has seen the evening through says what one that was just opened says."""

import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from planner import Study
from planner.strategies import STRATEGIES
from tests.domain.makers import clock, mode, tables
from tests.study.makers import bench_tables, look, on_disk
from tests.study.stories import Facts, live, stories


def compared(warm: Study, folder: Path, spare: Path, asking: bool) -> None:
    """Everything that is said of the study, by the warm object and by a cold one.

    The cold one has a copy of the folder, so that each asks for itself.
    """
    shutil.rmtree(spare, ignore_errors=True)
    cold = Study.open(shutil.copytree(folder, spare))
    if asking:
        assert look(warm.next()) == look(cold.next())
    assert look(warm.pending) == look(cold.pending)
    assert warm.closing() == cold.closing()
    assert warm.recommendation() == cold.recommendation()
    assert warm.recommendation(everyday_only=True) == cold.recommendation(everyday_only=True)


@pytest.mark.parametrize("strategy", STRATEGIES)
@settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(story=stories.filter(bool))
def test_warm_is_cold(strategy: str, story: list[tuple[str, Facts]], tmp_path: Path) -> None:
    """After every step of a story: reasons, recommendations, and what would be asked next."""
    folder = tmp_path / "warm"
    shutil.rmtree(folder, ignore_errors=True)
    warm = on_disk(folder, bench_tables(strategy=strategy))
    for step in story:
        asking = step[0] == "next"
        if not asking:
            live(warm, [step])
        compared(warm, folder, tmp_path / "cold", asking)


@pytest.mark.parametrize("strategy", STRATEGIES)
def test_a_boot_is_seen_although_it_tells_of_no_run(strategy: str) -> None:
    """What was worked out before it is kept, but for the minutes: live knobs are lost by it."""
    given_as = tables(clock(where="live"), mode(where="live"), study={"strategy": strategy})
    warm, cold = Study.create(given_as), Study.create(given_as)
    for study in (warm, cold):
        study.record("pass", settings={"clock": 4700, "mode": "b"})
        if study is warm:
            study.closing()
        study.boot(cold=False)
    assert look(warm.next()) == look(cold.next())
