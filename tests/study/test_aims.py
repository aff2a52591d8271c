"""Aims that this version does not search: a study may have them, runs may be recorded."""

from pathlib import Path

import pytest

from planner import Study
from planner.errors import DefinitionError
from tests.domain.makers import mode, tables
from tests.study.makers import bench_tables, on_disk, write

OTHERS = ["everyday", "trim"]


@pytest.mark.parametrize("aim", OTHERS)
def test_other_aims_are_kept_but_not_searched(aim: str, tmp_path: Path) -> None:
    """`create` takes the definition; `next` names the aim and the one that it expects."""
    study = on_disk(tmp_path / "s", bench_tables(aim=aim))
    head = study.head
    with pytest.raises(DefinitionError) as caught:
        study.next()
    for part in ("study.toml: [study]", f'aim = "{aim}"', 'expected aim = "edge"'):
        assert part in str(caught.value)
    assert study.head == head
    assert study.history.definition.goal.aim == aim


@pytest.mark.parametrize("aim", OTHERS)
def test_runs_are_recorded_under_any_aim(aim: str, tmp_path: Path) -> None:
    """They are evidence once the aim is changed back."""
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
