"""The pending proposal: the same until answered, or withdrawn because it is forbidden by now."""

from pathlib import Path
from typing import Any

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.errors import RecordError
from tests.domain.makers import mode
from tests.study.makers import bench_tables, events_of, look, on_disk, write


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the study lies."""
    return tmp_path / "study"


@pytest.fixture
def study(folder: Path) -> Study:
    """A study with proposal 1 pending."""
    made = on_disk(folder)
    made.next()
    return made


def edited(**changes: Any) -> dict[str, Any]:
    """The study's tables with changes to the clock."""
    tables = bench_tables()
    tables["knob"][0] |= changes
    return tables


def kinds(study: Study) -> list[Kind]:
    """What the ledger's entries say, in order."""
    return [event.kind for event in events_of(study)]


def test_asked_twice_it_is_the_same(study: Study, folder: Path) -> None:
    """By the same object, by `pending` or by another one: one entry in the ledger."""
    first = study.pending
    assert study.next() == study.next() == first == Study.open(folder).next()
    assert kinds(study) == [Kind.DEFINED, Kind.PROPOSED]


def test_it_is_on_disk_before_it_is_returned(study: Study) -> None:
    """As it was returned; times and boot come from the entry."""
    entry = events_of(study)[-1]
    assert entry.body["settings"] == study.pending.settings
    assert (entry.body["run"], entry.time) == (study.pending.number, study.pending.time)


def test_a_lowered_ceiling_withdraws_it(study: Study, folder: Path) -> None:
    """Another number, under the ceiling; the withdrawn one is never shown again."""
    asked = study.pending
    assert asked.settings["clock"] > 4400
    write(folder, edited(everyday=4400))
    again = study.next()
    assert again.settings["clock"] <= 4400
    assert again.number == asked.number + 1
    assert kinds(study)[2:] == [Kind.DEFINED, Kind.WITHDRAWN, Kind.PROPOSED]
    assert "above its ceiling of 4400 MHz" in events_of(study)[3].body["why"]
    write(folder, edited())
    assert study.next() == again


@pytest.mark.parametrize(
    "rule", [{"name": "r", "holds": "clock <= 4300", "kind": "hard"}, {"holds": "clock <= 4300"}]
)
def test_a_new_rule_withdraws_it_if_hard(study: Study, folder: Path, rule: dict[str, str]) -> None:
    """A note does not."""
    asked = study.pending
    write(folder, edited() | {"rule": [rule]})
    again = study.next()
    assert (again.number == asked.number) is ("kind" not in rule)


def test_an_edit_that_permits_it_leaves_it(study: Study, folder: Path) -> None:
    """Another seed, another strategy, a ceiling above it: the same question."""
    asked = study.pending
    write(folder, edited(everyday=5000) | {"study": {"seed": 9, "strategy": "bisection"}})
    assert study.next() == asked
    assert study.history.definition.goal.seed == 9
    assert kinds(study) == [Kind.DEFINED, Kind.PROPOSED, Kind.DEFINED]


def test_a_knob_added_completes_it(study: Study, folder: Path) -> None:
    """It stays pending, the new knob at stock."""
    asked, tables = study.pending, edited()
    write(folder, tables | {"knob": [*tables["knob"], mode()]})
    again = study.next()
    assert (again.number, again.settings) == (asked.number, asked.settings | {"mode": "a"})
    run = study.record("pass")
    assert (run.number, run.settings) == (asked.number, again.settings)


def test_a_knob_removed_withdraws_it(study: Study, folder: Path) -> None:
    """The new one is without it, and a run of it answers."""
    tables = edited()
    write(folder, tables | {"knob": tables["knob"][:2]})
    again = study.next()
    assert (again.number, set(again.settings)) == (2, {"clock", "volts"})
    assert "timing is no knob" in events_of(study)[3].body["why"]
    assert study.record("pass", settings={"clock": again.settings["clock"]}).number == 2
    assert study.pending is None


def test_a_narrowed_range_withdraws_it(study: Study, folder: Path) -> None:
    """Off the new grid is off the grid."""
    write(folder, edited(high=4500))
    again = study.next()
    assert again.number == 2
    assert again.settings["clock"] <= 4500


@pytest.mark.parametrize("outcome", ["no-start", "pass"])
def test_runs_may_close_it(study: Study, outcome: str) -> None:
    """A reading past its stop, in a run of one's own at a milder setting."""
    study.record(outcome, settings={"clock": 4300}, readings={"hot": 97})
    again = study.next()
    assert again is None or again.number == 3
    assert kinds(study)[3] is Kind.WITHDRAWN


def test_an_own_run_at_the_same_setting_answers_it(study: Study) -> None:
    """Named in full, or only by what differs from what the machine holds."""
    asked = study.pending
    run = study.record("crash", settings={"clock": asked.settings["clock"]})
    assert (run.number, run.settings) == (asked.number, asked.settings)
    assert study.pending is None
    asked = study.next()
    assert study.record("pass", settings=asked.settings).number == asked.number


def test_an_own_run_elsewhere_leaves_it(study: Study) -> None:
    """So does one of another workload at the same setting."""
    asked = study.pending
    assert study.record("pass", settings={"clock": 4300}).number == 2
    assert look(study.next())["settings"] == asked.settings
    assert study.pending.number == asked.number
    assert study.record("pass").number == asked.number
    assert study.history.next_number == 3


def test_its_changes_follow_the_machine(study: Study) -> None:
    """Shown against what the machine holds now, not when it was asked for."""
    asked = study.pending
    (change,) = asked.changes
    assert (change.knob, change.before, change.after) == ("clock", 4200.0, asked.settings["clock"])
    study.record("pass", settings={"clock": 4300, "timing": 40})
    assert {(c.knob, c.before) for c in study.next().changes} == {
        ("clock", 4300.0),
        ("timing", 40.0),
    }


def test_a_number_on_record_is_refused(study: Study) -> None:
    """It is amended instead; one that was never given is refused too."""
    study.record("pass")
    head = study.head
    for outcome in ("pass", "crash"):
        with pytest.raises(RecordError, match="run 1 is on record as pass; amend it"):
            study.record(outcome, number=1)
    for number in (2, 0, -1):
        with pytest.raises(RecordError, match=f"number = {number}: is not pending"):
            study.record("pass", number=number)
    assert study.head == head


def test_nothing_pending_nothing_named(study: Study) -> None:
    """A run without settings answers; with nothing to answer it is refused."""
    study.record("pass")
    with pytest.raises(RecordError, match="nothing is pending"):
        study.record("crash")
