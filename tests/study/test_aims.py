"""Aims of a study: each is served, and runs tell of all of them."""

from pathlib import Path

import pytest

from planner import Study
from planner.errors import DefinitionError
from tests.domain.makers import mode, tables
from tests.study.makers import bench_tables, on_disk, write

OTHERS = ["peak", "everyday", "trim"]


@pytest.mark.parametrize("aim", OTHERS)
def test_runs_are_recorded_under_any_aim(aim: str, tmp_path: Path) -> None:
    """They are evidence once the aim is changed."""
    study = on_disk(tmp_path / "s", bench_tables(aim=aim))
    study.record("pass", settings={"clock": 4500})
    assert Study.open(tmp_path / "s").history.runs[0].settings["clock"] == 4500
    write(tmp_path / "s", bench_tables())
    assert study.next().settings["clock"] > 4500


def test_a_study_without_a_range_has_no_edge() -> None:
    """Choices alone can be defined, but not searched."""
    study = Study.create(tables(mode()))
    with pytest.raises(
        DefinitionError, match=r"\[\[knob\]\]: expected one with low, high and step"
    ):
        study.next()


def test_a_strategy_that_there_is_not() -> None:
    """The message lists those that there are; nothing is written."""
    study = Study.create(bench_tables(strategy="magic"))
    head = study.head
    with pytest.raises(
        DefinitionError, match="strategy = 'magic': expected one of bayes, bisection"
    ):
        study.next()
    assert study.head == head
    assert study.record("pass", settings={"clock": 4500}).number == 1
