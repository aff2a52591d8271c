"""From the end of a workload to what is recorded: a table of cases."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.launch import Command, Judging, Launch
from planner.domain.outcome import Outcome
from planner.drive.judging import LARGEST_FILE, Ended, judged, patterns

EXITS = {0: Outcome.PASS, 2: Outcome.ERRORS, 5: Outcome.CRASH, 6: Outcome.VOID}


def launch(**told: Any) -> Launch:
    """A workload of 10 s."""
    return Launch(Command(("load",), 20), Judging(EXITS), least_s=5, **told)


@pytest.mark.parametrize(
    ("ended", "outcome", "facts"),
    [
        (Ended(0, 10), "pass", {"ran_s": 10}),
        (Ended(0, 10, {"score": "12.5"}), "pass", {"ran_s": 10, "score": 12.5}),
        (Ended(0, 10, {"score": "nan"}), "pass", {"ran_s": 10}),
        (Ended(0, 10, {"score": "1e999"}), "pass", {"ran_s": 10}),
        (Ended(0, 10, {"score": "12,5"}), "pass", {"ran_s": 10}),
        (Ended(0, 10, {"sub a": "3"}), "pass", {"ran_s": 10, "subscores": {"a": 3.0}}),
        (Ended(0, 10, {"errors": "0"}), "pass", {"ran_s": 10}),
        (Ended(0, 10, {"errors": "4"}), "errors", {"errors": 4.0}),
        (Ended(0, 10, {"wrong": "MISMATCH"}), "wrong-result", {}),
        (Ended(0, 10, {"wrong": "M", "errors": "4"}), "wrong-result", {}),
        (Ended(0, 1), "void", {}),
        (Ended(1, 3), "wrong-result", {"failed_after_s": 3}),
        (Ended(1, 3, {"score": "9"}), "wrong-result", {"failed_after_s": 3, "score": 9.0}),
        (Ended(2, 3), "errors", {"failed_after_s": 3, "errors": 1}),
        (Ended(2, 3, {"errors": "7"}), "errors", {"failed_after_s": 3, "errors": 7.0}),
        (Ended(5, 3, {"score": "9"}), "crash", {"failed_after_s": 3}),
        (Ended(6, 3, {"score": "9"}), "void", {}),
        (Ended(-11, 3), "crash", {"failed_after_s": 3}),
        (Ended(-4, 3), "crash", {"failed_after_s": 3}),
        (Ended(-9, 3), "void", {}),
        (Ended(-15, 3), "void", {}),
        (Ended(None, 20, overdue=True), "crash", {}),
    ],
)
def test_cases(ended: Ended, outcome: str, facts: dict[str, Any]) -> None:
    """Status, signal, time, what was printed."""
    verdict = judged(launch(), ended, None)
    assert (str(verdict.outcome), dict(verdict.facts)) == (outcome, facts)
    assert bool(verdict.why) == (outcome != "pass")


def test_one_that_runs_until_it_is_ended() -> None:
    """Ended by us it passed; ended by itself it did not run as it should."""
    endless = launch(until_stopped=True)
    assert judged(endless, Ended(None, 10), None).outcome is Outcome.PASS
    assert judged(endless, Ended(0, 10), None).outcome is Outcome.VOID
    assert judged(endless, Ended(1, 3), None).outcome is Outcome.WRONG_RESULT


@pytest.mark.parametrize(
    ("text", "outcome", "facts"),
    [
        ({"score": 7}, "pass", {"ran_s": 10, "score": 7}),
        ({"errors": 3, "readings": {"hot": 80}}, "errors", {"errors": 3, "readings": {"hot": 80}}),
        ({"outcome": "wrong-result", "note": "x"}, "wrong-result", {"note": "x"}),
        ({"outcome": "crash", "score": 7}, "crash", {}),
        ({"more": 1}, "pass", {"ran_s": 10}),
        ("{", "wrong-result", {}),
        ("[]", "wrong-result", {}),
        ('{"score": NaN}', "wrong-result", {}),
        ('{"score": "7"}', "wrong-result", {}),
        ('{"score": true}', "wrong-result", {}),
        ('{"score": 1e999}', "wrong-result", {}),
        ('{"outcome": "fine"}', "wrong-result", {}),
        ('{"outcome": ["pass"]}', "wrong-result", {}),
        ('{"subscores": {"a": "b"}}', "wrong-result", {}),
        ("[" * 100_000, "wrong-result", {}),
        ("\xff\xfe", "wrong-result", {}),
        ("1" * 5000, "wrong-result", {}),
        (" " * (LARGEST_FILE + 1), "wrong-result", {}),
        (None, "void", {}),
    ],
)
def test_a_result_file(tmp_path: Path, text: Any, outcome: str, facts: dict[str, Any]) -> None:
    """What it says counts; garbage after a good exit status is a wrong result; none is none."""
    file = tmp_path / "result.json"
    if text is not None:
        written = text if isinstance(text, str) else json.dumps(text)
        file.write_bytes(written.encode("latin-1"))
    verdict = judged(launch(), Ended(0, 10), file)
    assert (str(verdict.outcome), dict(verdict.facts)) == (outcome, facts)


def test_the_file_of_a_failed_run_changes_nothing_if_it_is_not_there(tmp_path: Path) -> None:
    """A crash leaves no result; its status has said enough."""
    assert judged(launch(), Ended(1, 3), tmp_path / "none").outcome is Outcome.WRONG_RESULT
    assert judged(launch(), Ended(-11, 3), tmp_path / "none").outcome is Outcome.CRASH


@given(st.binary(max_size=300), st.integers(-64, 300))
def test_any_file_and_any_status_are_judged(
    tmp_path_factory: pytest.TempPathFactory, data: bytes, status: int
) -> None:
    """Without an error."""
    file = tmp_path_factory.getbasetemp() / "any.json"
    file.write_bytes(data)
    assert judged(launch(), Ended(status, 10), file).outcome in Outcome


def test_only_what_is_given_is_looked_for() -> None:
    """By name."""
    assert patterns(Judging(score="a(b)", subscores={"x": "(c)"})) == {
        "score": "a(b)",
        "sub x": "(c)",
    }
