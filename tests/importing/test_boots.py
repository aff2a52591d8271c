"""Runs of one boot stay together, cold boots stay cold, and boots of two files never mix."""

import pytest

from planner import Study
from tests.importing.makers import csv_of, lab, take


def boots(study: Study) -> list[tuple[int, bool]]:
    """Boot of each run and whether it was a cold one."""
    return [(run.boot, run.cold) for run in study.history.runs]


def taken(text: str) -> list[tuple[int, bool]]:
    """The boots of a fresh study that took the rows in."""
    study = Study.create(lab())
    take(study, f"outcome,clock,boot,cold,run_minutes\n{text}")
    return boots(study)


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ("pass,1,1,no,\npass,1,1,no,\n", [(1, False), (1, False)]),
        ("pass,1,1,no,\npass,1,2,no,\n", [(1, False), (2, False)]),
        ("pass,1,1,yes,\npass,1,1,yes,\n", [(2, True), (2, True)]),
        ("crash,1,1,no,\npass,1,2,no,\n", [(1, False), (2, False)]),
        ("crash,1,1,no,\npass,1,3,yes,\n", [(1, False), (3, True)]),
        ("no-start,1,1,no,\npass,1,2,yes,\n", [(1, False), (2, True)]),
        ("pass,1,7,yes,\npass,1,9,yes,\n", [(2, True), (3, True)]),
        ("pass,1,,,\ncrash,1,,,\npass,1,,,\n", [(1, False), (1, False), (2, False)]),
        ("pass,1,cold,,\npass,1,cold,,\npass,1,,,\n", [(2, True), (3, True), (3, True)]),
        ("pass,1,,yes,\npass,1,warm,,\n", [(2, True), (3, False)]),
        ("void,1,4,yes,\npass,1,1,no,\n", [(1, False), (1, False)]),
    ],
)
def test_boots_are_told_from_their_numbers(rows: str, expected: list[tuple[int, bool]]) -> None:
    """A new number is a start of the machine, unless the run before brought it about."""
    assert taken(rows) == expected


def test_a_file_never_goes_on_with_the_studys_boot() -> None:
    """The machine's own runs and the file's first ones are no cluster."""
    study = Study.create(lab())
    study.record("pass", settings={"clock": 4500})
    take(study, "outcome,clock,boot,cold\npass,4500,1,no\npass,4500,1,no\n")
    assert boots(study) == [(1, False), (2, False), (2, False)]


def test_a_grown_export_goes_on_with_its_last_boot() -> None:
    """Taken in on two evenings it has the boots of one import."""
    first, second = Study.create(lab()), Study.create(lab())
    first.record("pass", settings={"clock": 4500}, boot="cold")
    take(second, csv_of(first))
    first.record("pass", settings={"clock": 4500})
    take(second, csv_of(first))
    assert boots(second) == boots(first) == [(2, True), (2, True)]


def test_an_export_after_runs_in_between_begins_a_boot(monkeypatch: pytest.MonkeyPatch) -> None:
    """Otherwise runs of two machines would be one cluster."""
    monkeypatch.setenv("PLANNER_BENCH", "left")
    first = Study.create(lab())
    monkeypatch.setenv("PLANNER_BENCH", "right")
    second = Study.create(lab())
    first.record("pass", settings={"clock": 4500})
    take(second, csv_of(first))
    second.record("pass", settings={"clock": 4600})
    first.record("pass", settings={"clock": 4500})
    take(second, csv_of(first))
    assert boots(second) == [(1, False), (1, False), (2, False)]


def test_cold_boots_of_a_claim_come_over() -> None:
    """Three passes over two cold boots are so in the second study."""
    first = Study.create(lab(confidence=0.8, cold_boots=2))
    first.boot(cold=True)
    first.record("pass", settings={})
    first.record("pass", settings={})
    first.boot(cold=True)
    first.record("pass", settings={})
    second = Study.create(lab(confidence=0.8, cold_boots=2))
    take(second, csv_of(first))
    assert boots(second) == boots(first)
    assert second.recommendation().claim == first.recommendation().claim
    assert second.recommendation().claim.cold_boots == 2
