"""`gap`, `compare` and `claim` as typed."""

import json
from typing import Any

import pytest
from scipy import stats

from tests.cli.typed import STUDY, made, planner, told

SCORED = STUDY.replace(
    'name = "load"\n', 'name = "load"\nbeat = { mine = 1020 }\nsubscores = ["shade", "pack"]\n'
)


def record(clock: int, score: float) -> None:
    told("record", "pass", "--set", f"clock={clock}", "--score", score)


def evening() -> None:
    made(text=SCORED)
    for clock, score in ((4200, 1000), (4200, 1002), (4300, 1010), (4300, 1013), (4400, 1019)):
        record(clock, score)


def test_gap_of_the_study_and_of_the_line() -> None:
    """Scores to beat of study.toml, then those typed, with or without a name."""
    evening()
    said = told("gap", "--beat", "1100", "--beat", "theirs=1005").stdout
    assert "mine: 1020 is 1 (0.10%) above the best" in said
    assert "1100: 1100 is 81" in said
    assert "theirs: 1005 is beaten, by 14" in said
    assert "clock +50 MHz gives" in said


def test_gap_without_a_score() -> None:
    """It says how to record one, and exits as for a slip."""
    made(text=SCORED)
    answer = planner("gap")
    assert answer.exit_code == 2
    assert "load: no claimable score is on record, expected one" in answer.stderr


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--beat", "fast"], "--beat = 'fast': expected a number"),
        (["--beat", "mine=-5"], "--beat mine=-5: expected a score above 0"),
        (["--workload", "lode"], "workload 'lode': expected one of load"),
    ],
)
def test_slips_of_gap(given: list[str], said: str) -> None:
    """Option, value and what was expected are named."""
    evening()
    answer = planner("gap", *given)
    assert (answer.exit_code, said in answer.stderr) == (2, True)


def test_compare() -> None:
    """Two runs stand for their settings."""
    evening()
    said = told("compare", 1, 4).stdout
    assert "Score: +10.5 (+1.05%), a real gain" in said
    assert "Welch's test" in said
    assert "Take turns" in said
    answer = planner("compare", 1, 2)
    assert (answer.exit_code, "the same setting" in answer.stderr) == (2, True)


def test_claim() -> None:
    """The plan of the study, or of what is typed."""
    evening()
    assert (
        "To claim: 95% of 10 min runs of load pass, 90% sure"
        in told("claim", "--target", 0.95).stdout
    )
    assert "By hours      10 h between failures" in told("claim", "--mean-hours", "10h").stdout
    answer = planner("claim", "--confidence", "90")
    assert (answer.exit_code, "expected from 0.5 to 0.9999" in answer.stderr) == (2, True)


def test_close_says_what_a_claim_takes() -> None:
    """22 passes in a row (success run, textbook) for the default of nine in ten at 90 %."""
    evening()
    assert "Claim   90% of 10 min runs of load pass, 90% sure: 22 passes" in told("close").stdout


def document(*words: object) -> dict[str, Any]:
    """What a command prints for programs."""
    found: dict[str, Any] = json.loads(told(*words, "--json").stdout)
    assert found.pop("schema") == 1
    return found


def test_gap_for_programs() -> None:
    """Gap and best of the recorded scores, reckoned here from them."""
    evening()
    found = document("gap", "--beat", "theirs=1005")
    assert found["best"]["score"] == 1019
    assert {t["name"]: (t["gap"], t["beaten"]) for t in found["targets"]} == {
        "mine": (1, False),
        "theirs": (-14, True),
    }
    (slope,) = found["moved_by"]
    assert (slope["knob"], slope["known"]) == ("clock", True)
    assert found["made_of"] is None
    assert len(found["not_known"]) == 1


def test_compare_for_programs() -> None:
    """Means and gain of the recorded scores; Welch's t by scipy."""
    evening()
    found = document("compare", 1, 4)
    (score,) = found["measures"]
    assert (found["a"]["runs"], found["b"]["runs"]) == ([1, 2], [3, 4])
    assert (score["name"], score["gain"], score["real"]) == (None, 10.5, True)
    by_scipy = stats.ttest_ind([1010, 1013], [1000, 1002], equal_var=False)
    assert score["p_value"] == pytest.approx(by_scipy.pvalue, rel=1e-6)


def test_claim_for_programs() -> None:
    """59 passes for 95 % at 95 % (Wilks, textbook), with two failures 124 runs."""
    evening()
    found = document("claim", "--target", 0.95, "--confidence", 0.95, "--mean-hours", "10h")
    assert found["in_a_row"] == 59
    assert found["with_failures"][1] == [2, 124]
    assert found["owed"] == 59 - found["best"]["passes"]
    assert found["hours"]["mean"] == 10


def test_check_tells_of_weights_that_do_not_add_up() -> None:
    """They are a note: the search works without them."""
    wrong = 'combine = "harmonic"\nsubscores = { shade = 0.7, pack = 0.4 }\n'
    made(text=SCORED.replace('subscores = ["shade", "pack"]\n', wrong))
    noted = " ".join(told("check").stdout.split())
    assert "load: weights 0.7 + 0.4 = 1.1: expected to add up to 1, or to 100" in noted
    record(4200, 1000)
    assert "Best" in told("gap").stdout


def test_gap_reads_an_edited_study() -> None:
    """It asks for a line in study.toml, so it takes that over."""
    folder = made(text=SCORED.replace("mine = 1020", "mine = 999"))
    record(4200, 1000)
    file = folder / "study.toml"
    file.write_text(file.read_text("utf-8").replace("mine = 999", "mine = 1050"), "utf-8")
    answer = told("gap")
    assert "study.toml was edited: taken over" in answer.stderr
    assert "mine: 1050 is 50 (5.00%) above the best" in answer.stdout


def test_claim_says_what_the_runs_alone_show() -> None:
    """One of one: Clopper and Pearson's 5 % to 100 % at 90 % (0.05 to the power 1)."""
    evening()
    said = " ".join(told("claim").stdout.split())
    assert "1 of 1 run held exactly there: by these alone 5% to 100% pass, 90% sure" in said
