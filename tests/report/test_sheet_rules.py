"""Claim rules on the settings sheet: met, not met, not seen."""

from pathlib import Path
from typing import Any

import pytest

from planner import Study
from planner.report.sheet.rules import judged_rules
from tests.domain.makers import clock, tables

BASE = {"name": "base", "unit": "MHz", "low": 98, "high": 106, "step": 1, "stock": 100}
LOOP = {"name": "loop", "subscores": ["shade", "pack"]}


def standing(
    rules: dict[str, Any],
    rig: dict[str, Any] | None = None,
    workload: dict[str, Any] | None = None,
    settings: dict[str, float] | None = None,
    attached: tuple[str, ...] = (),
    **facts: Any,
) -> list[tuple[bool | None, str]]:
    """How each rule stands for one run, and what was found."""
    made = {"claim_rules": rules, "rig": rig or {}, "workload": [LOOP | (workload or {})]}
    readings = [{"name": "room", "unit": "C"}]
    study = Study.create(tables(clock(), BASE, reading=readings, **made))
    run = study.record("pass", settings=settings or {"clock": 4300.0}, score=100, **facts)
    return [(j.met, j.why) for j in judged_rules(study.history, run, attached)]


def test_the_version_is_the_one_told_when_it_ran() -> None:
    """Told otherwise, or not at all, it is not met."""
    assert standing({"version": "2"}, workload={"version": "2"}) == [
        (True, "the study told '2' when it ran")
    ]
    assert standing({"version": "2"}, workload={"version": "1"})[0][0] is False
    assert standing({"version": "2"}) == [(False, "not told when it ran")]


def test_sub_scores_must_be_of_the_one_run() -> None:
    """What lacks is named."""
    whole = {"shade": 1, "pack": 2}
    assert standing({"subscores": True}, subscores=whole) == [(True, "of run 1")]
    assert standing({"subscores": True}, subscores={"shade": 1}) == [(False, "not recorded: pack")]


def test_sub_scores_that_were_named_later_lack_all_the_same(tmp_path: Path) -> None:
    """A run from before they stood in study.toml does not meet the rule by knowing of none."""
    file = tmp_path / "box" / "study.toml"
    text = '[[knob]]\nname = "clock"\nlow = 1\nhigh = 9\nstep = 1\nstock = 3\n'
    text += '[claim_rules]\nsubscores = true\n[[workload]]\nname = "loop"\n'
    (tmp_path / "given.toml").write_text(text, encoding="utf-8")
    study = Study.create(tmp_path / "given.toml", store=file.parent)
    run = study.record("pass", settings={"clock": 4}, score=100, subscores={"shade": 1})
    file.write_text(text + 'subscores = ["shade", "pack"]\n', encoding="utf-8")
    assert study.adopt()
    (judged,) = judged_rules(study.history, run, ())
    assert (judged.met, judged.why) == (False, "not recorded: pack")


def test_readings_and_pictures_must_be_there() -> None:
    """Recorded with the run; attached to the sheet."""
    rules = {"readings": ["room"], "pictures": ["score.png"]}
    assert standing(rules) == [(False, "not recorded"), (False, "not attached")]
    found = standing(rules, readings={"room": 21.5}, attached=("score.png",))
    assert found == [(True, "21.5"), (True, "attached")]


def test_cooling_is_compared_with_the_rig() -> None:
    """By the person's own words."""
    assert standing({"cooling": ["air"]}, rig={"cooling": "air"}) == [(True, "air")]
    assert standing({"cooling": ["air"]}, rig={"cooling": "ice"}) == [(False, "ice")]
    assert standing({"cooling": ["air"]}) == [(False, "not told when it ran")]


@pytest.mark.parametrize(
    ("prices", "met"), [([300.0, 200.0], True), ([300.0, 201.0], False), ([300.0, None], None)]
)
def test_the_bracket(prices: list[float | None], met: bool | None) -> None:
    """At the ceiling it still fits; an untold price leaves it open."""
    parts = [{"name": f"p{i}"} | ({"price": p} if p else {}) for i, p in enumerate(prices)]
    rig = {"parts": parts, "cost_brackets": {"small": 500}}
    assert standing({"bracket": "small"}, rig=rig)[0][0] is met


def test_an_untold_price_cannot_save_a_rig_that_costs_too_much() -> None:
    """600 without the rest is above 500 already."""
    parts = [{"name": "a", "price": 600}, {"name": "b"}]
    rig = {"parts": parts, "cost_brackets": {"small": 500}}
    assert standing({"bracket": "small"}, rig=rig)[0][0] is False


def test_settings_are_held_against_what_ran() -> None:
    """Not against what was set."""
    rules = {"settings": ["clock <= 4300"]}
    assert standing(rules) == [(True, "clock 4300")]
    assert standing(rules, actual={"clock": 4350.0}) == [(False, "clock 4350")]


def test_a_base_clock_off_stock_needs_a_clock_from_outside() -> None:
    """It can skew the machine's own timer (common practice of the trade, no source)."""
    rules, moved = {"trusted_clock": ["base"]}, {"clock": 4300.0, "base": 102.0}
    assert standing(rules) == [(True, "at stock: base")]
    assert standing(rules, settings=moved) == [
        (False, "not at stock: base; timed by the machine itself")
    ]
    outside = standing(rules, settings=moved, workload={"timed_outside": True})
    assert outside == [(True, "timed from outside")]


def test_what_no_program_sees_is_not_seen() -> None:
    """Neither met nor not; and rules of one workload leave the others alone."""
    assert standing({"also": ["a witness"]}) == [(None, "for a person to see to")]
    rules = {"workload": "loop", "also": ["a witness"]}
    assert len(standing(rules)) == 1
