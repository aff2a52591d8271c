"""`next` on terms, `next --show` and `forecast` as typed, on studies of many knobs."""

import json
from pathlib import Path

import pytest

from tests.cli.typed import STUDY, made, planner, told

PEAK = STUDY.replace('knob = "clock"\n', 'aim = "peak"\nminutes = 120\n', 1) + (
    '\n[[group]]\nname = "board"\n\n[[knob]]\nname = "fan_clock"\ngroup = "board"\nunit = "MHz"\n'
    "low = 2000\nhigh = 3000\nstep = 25\nstock = 2200\n"
)


def evening() -> None:
    made(text=PEAK)
    for clock, fans, score in ((4200, 2200, 1000), (4300, 2300, 1022), (4350, 2300, 1026)):
        settings = ("--set", f"clock={clock}", "--set", f"fan_clock={fans}")
        told("record", "pass", *settings, "--score", score)


def test_one_group_alone() -> None:
    """The other knob stands as in the best run."""
    evening()
    proposal = json.loads(told("next", "--only", "board", "--json").stdout)["proposal"]
    assert proposal["settings"]["clock"] == 4350
    assert proposal["settings"]["fan_clock"] != 2300


def test_other_terms_say_so() -> None:
    """The withdrawn one is named, with the reason."""
    evening()
    first = json.loads(told("next", "--json").stdout)["proposal"]
    answer = planner("next", "--only", "board")
    said = f"Run {first['run']} is withdrawn: it was asked on other terms."
    assert said in " ".join(answer.stderr.split())


def test_settings_to_choose_from() -> None:
    """As many as asked for, this one counted."""
    evening()
    said = told("next", "--show", 3).stdout
    assert "Or one of these" in said
    assert len(json.loads(told("next", "--show", 3, "--json").stdout)["others"]) == 2


def test_forecast() -> None:
    """In words and for programs; the best never falls."""
    evening()
    assert "30 min  are worth" in told("forecast", "--minutes", 60).stdout
    found = json.loads(told("forecast", "--minutes", 60, "--json").stdout)
    assert found["schema"] == 1
    assert found["middle"] == sorted(found["middle"])
    assert found["minutes"][-1] == 60


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["next", "--only", "sound"], "only 'sound': expected a group or knob: board, clock"),
        (["next", "--from", "77"], "from run 77: there is none"),
        (["forecast", "--minutes", "0"], "--minutes"),
    ],
)
def test_slips(typed: list[str], said: str) -> None:
    """Exit code 2, and what was expected."""
    evening()
    answer = planner(*typed)
    assert (answer.exit_code, said in answer.stderr) == (2, True)


@pytest.mark.parametrize(
    "typed", [["forecast"], ["next", "--show", "2"], ["next", "--only", "core"]]
)
def test_one_knob_has_none_of_it(typed: list[str]) -> None:
    """The message names the aims that have."""
    made()
    answer = planner(*typed)
    assert answer.exit_code == 2
    assert "expected aim peak" in answer.stderr


def test_a_forecast_before_any_score() -> None:
    """It says what is missing."""
    made(text=PEAK)
    answer = planner("forecast")
    assert (answer.exit_code, "nothing scored yet" in answer.stderr) == (2, True)


def test_a_second_sample_starts_from_the_first() -> None:
    """`new --prior` keeps the definition and says where the edges probably lie; it can be asked."""
    evening()
    told("record", "crash", "--set", "clock=4700", "--set", "fan_clock=2300")
    said = told("samples", "box").stdout
    assert "the next" in said
    told("new", "other", "--prior", "box")
    text = Path("studies/other/study.toml").read_text(encoding="utf-8")
    assert 'name = "other"' in text
    assert text.count("# from one sample") == 3  # fabric, too, was raised with the clock
    told("check", "other")
    assert json.loads(told("next", "-s", "other", "--json").stdout)["proposal"] is not None


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["new", "other", "--prior", "nowhere"], "nowhere"),
        (["new", "other", "--prior", "box"], "no run of it moved a knob that can fail"),
        (["new", "other", "--prior", "box", "--template", "core"], "expected neither --template"),
    ],
)
def test_priors_that_cannot_be(typed: list[str], said: str) -> None:
    """Nothing is made."""
    made(text=PEAK)
    answer = planner(*typed)
    assert (answer.exit_code, said in answer.stderr) == (2, True)
    assert not Path("studies/other").exists()
