"""What the next start makes of a run that a drive had under way when it was cut off."""

import pytest

from planner import Study
from planner.driving import returning
from planner.driving.trail import Begun, UnderWay
from tests.driving.benches import driven


@pytest.fixture
def study(monkeypatch: pytest.MonkeyPatch) -> Study:
    """One with run 1 pending, on the boot `now`."""
    monkeypatch.setattr(returning, "boot_mark", lambda: "now")
    made = Study.create(driven())
    made.next()
    return made


def test_a_machine_that_went_down_is_a_crash_with_its_time(
    study: Study, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between its last sign of life and the start of this boot."""
    monkeypatch.setattr(returning, "boot_instant", lambda: 1_000_100.0)
    run = returning.settle(study, UnderWay("earlier", begun=Begun(1, 1e6, 12.5)), apart=False)
    assert run is not None
    assert (run.outcome, run.failed_after_s) == ("crash", 12.5)
    assert run.symptom == "the machine went down"
    assert run.note == "last sign of life after 12 s, started anew within 100 s"


@pytest.mark.parametrize("instant", [None, 999_000.0, 2e6, 1e6 + 5])
def test_clocks_that_do_not_fit_bound_nothing(
    study: Study, monkeypatch: pytest.MonkeyPatch, instant: float | None
) -> None:
    """Set back, far off, or unknown: the last sign of life alone stands, never a negative time."""
    monkeypatch.setattr(returning, "boot_instant", lambda: instant)
    run = returning.settle(study, UnderWay("earlier", begun=Begun(1, 1e6, 7.0)), apart=False)
    assert run is not None
    assert (run.outcome, run.failed_after_s) == ("crash", 7.0)
    assert run.note == "last sign of life after 7 s"


def test_one_that_went_down_while_values_were_set(study: Study) -> None:
    """It was written down as begun before anything was set."""
    run = returning.settle(study, UnderWay("earlier", begun=Begun(1)), apart=False)
    assert run is not None
    assert (run.outcome, run.failed_after_s) == ("crash", 0)
    assert run.symptom == "the machine went down while its values were set"


def test_a_drive_that_was_ended_from_outside_says_nothing(study: Study) -> None:
    """The same boot: the machine did not go down."""
    run = returning.settle(study, UnderWay("now", begun=Begun(1, 1e6, 7.0)), apart=False)
    assert run is not None
    assert run.outcome == "void"


def test_where_only_the_planners_machine_was_restarted(study: Study) -> None:
    """The one under test is another; nobody knows how its run ended."""
    run = returning.settle(study, UnderWay("earlier", begun=Begun(1, 1e6, 7.0)), apart=True)
    assert run is not None
    assert (run.outcome, "not known" in run.note) == ("void", True)


def test_what_is_spoilt_counts_as_a_crash(study: Study) -> None:
    """Better a setting too few than one that kills the machine in a loop."""
    run = returning.settle(study, UnderWay("", whole=False), apart=False)
    assert run is not None
    assert (run.outcome, run.symptom) == ("crash", "the machine went down")


@pytest.mark.parametrize("begun", [None, Begun(7, 1e6, 3.0)])
def test_a_run_that_was_not_begun_is_still_to_be_run(study: Study, begun: Begun | None) -> None:
    """Nothing was set for it, whoever asked."""
    assert returning.settle(study, UnderWay("earlier", begun=begun), apart=False) is None
    assert study.pending is not None
    assert study.history.runs == ()


def test_a_result_that_was_recorded_is_not_doubled(study: Study) -> None:
    """The restart came between the ledger and what the drive writes down."""
    study.record("pass", number=1)
    assert (
        returning.settle(study, UnderWay("earlier", begun=Begun(1, 1e6, 3.0)), apart=False) is None
    )
    assert [run.outcome for run in study.history.runs] == ["pass"]


def test_what_took_the_machine_down_is_not_asked_for_again(study: Study) -> None:
    """By any strategy, until it held there or the machine was changed."""
    run = returning.settle(study, UnderWay("earlier", begun=Begun(1, 1e6, 3.0)), apart=False)
    assert run is not None
    for _ in range(12):
        proposal = study.next()
        if proposal is None:
            break
        assert proposal.settings != run.ran
        study.record("crash" if proposal.settings["clock"] > run.ran["clock"] else "pass")
    from planner.gate import gate_of

    (why,) = gate_of(study.history).objections(run.ran)
    assert "took the machine down in run 1" in why
    study.record("pass", settings=run.ran)
    assert gate_of(study.history).permits(run.ran)
    study.amend(study.history.runs[-1].number, outcome="void")
    assert not gate_of(study.history).permits(run.ran)
    study.changed("new firmware")
    assert gate_of(study.history).permits(run.ran)
