"""Every number of a sheet is in the ledger: reckoned again from its entries, by other means."""

import json
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.domain.quantity import format_number
from planner.report.sheet.document import sheet_document
from planner.report.sheet.forms import markdown_text
from planner.report.sheet.gather import search_of, sheet_of
from planner.report.sheet.nouns import Sheet
from planner.report.text.json_form import json_text
from planner.trade.cost import Cost
from tests.report.sheet_ledger import Told, best, evidence, repeats, told_runs
from tests.report.sheets import DEFINITION, SHEETS, told
from tests.study.makers import bench_tables, events_of

CEILINGS = {"volts": 1.25}
"""As tests.study.makers fills them in."""
SURE = 0.9
"""Confidence of bounds where the study names none."""
WORKLOADS = [{"name": "long", "minutes": 10, "subscores": ["a", "b"]}, {"name": "short"}]
Facts = dict[str, Any]


@st.composite
def facts_of_a_run(draw: st.DrawFn) -> Facts:
    """Any outcome, at few settings, so that many runs are at the same one."""
    outcome = draw(st.sampled_from(["pass"] * 6 + ["crash", "no-start", "stopped", "void"]))
    facts: Facts = {
        "outcome": outcome,
        "settings": {
            "clock": draw(st.sampled_from([4400, 4400, 4500])),
            "volts": draw(st.sampled_from([1.2, 1.2, 1.3])),
            "timing": 44,
        },
        "workload": draw(st.sampled_from(["long", "long", "short"])),
        "run_minutes": draw(st.sampled_from([5, 10])),
        "boot": draw(st.sampled_from([None, None, "cold", "warm"])),
        "actual": draw(st.sampled_from([None] * 4 + [{"volts": 1.25}, {"volts": 1.255}])),
    }
    if outcome not in ("crash", "no-start"):
        facts["score"] = draw(st.none() | st.integers(1000, 1010).map(float))
        facts["subscores"] = draw(st.none() | st.just({"a": facts["score"] or 1.0, "b": 2.0}))
        facts["capped"] = draw(st.sampled_from([None, None, "power", "score"]))
    return facts


STEPS = st.sampled_from(["run"] * 6 + ["mend", "void", "boot", "changed"])
stories = st.lists(st.tuples(STEPS, facts_of_a_run()), min_size=1, max_size=14)


def lived(story: list[tuple[str, Facts]]) -> Study:
    """The study after the story."""
    study = Study.create(bench_tables() | {"workload": WORKLOADS})
    for step, facts in story:
        runs = study.history.runs
        if step == "run" or not runs:
            study.record(**facts)
        elif step == "mend":
            cleared = {"score": None, "subscores": None, "capped": None}
            study.amend(runs[-1].number, **(cleared | facts))
        elif step == "void":
            study.amend(runs[len(runs) // 2].number, outcome="void")
        elif step == "boot":
            study.boot(cold=True)
        else:
            study.changed("new paste")
    return study


def sheet_without_search(study: Study) -> Sheet:
    """What does not need a model."""
    return sheet_of(study.history, None, study.head)


@pytest.mark.slow
@settings(max_examples=150)
@given(stories)
def test_every_number_of_a_claim_is_in_the_ledger(story: list[tuple[str, Facts]]) -> None:
    """Score, sub-scores, setting, evidence, bound, noise, boots: for each workload and region."""
    study = lived(story)
    runs = told_runs(events_of(study))
    document = sheet_document(sheet_without_search(study))
    expected = best(runs, CEILINGS)
    found = {(c["workload"], bool(c["at_own_risk"])): c for c in document["scores"]}
    assert found.keys() == expected.keys()
    for place, run in expected.items():
        _check_claim(found[place], run, runs)
    assert document["runs"]["counted"] == len(runs)
    assert document["head"]["seq"] == len(events_of(study))


def _check_claim(claim: Facts, run: Told, runs: list[Told]) -> None:
    assert (claim["run"], claim["score"]) == (run.number, run.score)
    recorded = run.facts.get("subscores") or {}
    assert {n: v for n, v in claim["subscores"].items() if v is not None} == recorded
    lines = {line["name"]: line for line in claim["setting"]}
    assert {name: line["as_set"] for name, line in lines.items()} == run.set
    assert {name: line["ran"] for name, line in lines.items()} == run.ran
    assert claim["conditions"]["amended"] == run.amended
    assert claim["conditions"]["run_minutes"] == run.facts["run_minutes"]
    assert (claim["conditions"]["boot"] == "cold") == run.cold
    assert claim["evidence"] == pytest.approx(evidence(runs, run, SURE), rel=1e-9)
    noise = repeats(runs, run)
    assert claim["repeats"] == (None if noise is None else pytest.approx(noise, rel=1e-9))


@pytest.mark.slow
@settings(max_examples=150)
@given(stories)
def test_what_cannot_be_claimed_never_is(story: list[tuple[str, Facts]]) -> None:
    """No void, struck or failed run, and no capped pass; what is left out is counted."""
    study = lived(story)
    sheet = sheet_without_search(study)
    for claim in sheet.claims:
        run = study.history.by_number[claim.run]
        assert (run.outcome, run.capped, run.score) == ("pass", None, claim.score)
    assert sheet.unclaimed == sum(
        run.score is not None and (run.outcome != "pass" or run.capped is not None)
        for run in study.history.runs
    )


def test_an_evening_by_hand() -> None:
    """The kept sheet's claims, each number worked out by hand from its table of runs."""
    sheet = SHEETS["scored"]()
    claims = [(c.workload, c.run, c.score, bool(c.at_own_risk)) for c in sheet.claims]
    assert claims == [
        ("long sums", 2, 12810, False),
        ("long sums", 8, 13204.5, True),
        ("short hop", 9, 901.5, True),
    ]
    # The short hop at 52x is own risk too: it ran with the offset of run 8 still in the firmware.
    assert sheet.unclaimed == 2
    assert sheet.claims[0].repeats is not None
    assert sheet.claims[0].repeats.mean == pytest.approx((12810 + 12795 + 12788.25) / 3)
    lines = {line.name: (line.as_set, line.ran) for line in sheet.claims[1].lines}
    assert lines["core_offset"] == (110, 105)
    assert lines["core_voltage"] == (1.26, 1.255)
    assert sheet.cost == Cost(649.5, 1, "small", 700.0, "")


def test_a_shorter_pass_bears_nothing_out() -> None:
    """A failure counts whatever its length, a pass from the length of the claimed run on."""
    study = Study.create(bench_tables() | {"workload": WORKLOADS})
    for outcome, minutes in (("pass", 10), ("pass", 5), ("stopped", 9), ("crash", 10)):
        score = 10 if minutes == 10 and outcome == "pass" else None
        study.record(outcome, settings={"clock": 4400}, run_minutes=minutes, score=score)
    (claim,) = sheet_without_search(study).claims
    assert (claim.evidence.passes, claim.evidence.runs) == (1, 2)


def test_a_setting_that_was_set_too_high_is_at_own_risk() -> None:
    """Whoever copies it sets it so, though the firmware gave less."""
    study = Study.create(bench_tables())
    study.record("pass", settings={"volts": 1.3}, actual={"volts": 1.25}, score=10)
    (claim,) = sheet_without_search(study).claims
    assert claim.at_own_risk == ("volts",)
    line = next(line for line in claim.lines if line.name == "volts")
    assert line.set_mark is not None
    assert line.ran_mark is None


def test_the_setting_to_keep_is_the_studys() -> None:
    """Chance, interval, counts and debts are those of the recommendation, for each region."""
    study = told()
    best, everyday = study.recommendation(), study.recommendation(everyday_only=True)
    search = search_of(study.history, best, everyday, study.closing())
    kept = sheet_document(sheet_of(study.history, search, study.head))["search"]["keep"]
    assert len(kept) == 1 + (everyday.settings != best.settings)
    for shown, found in zip(kept, (best, everyday), strict=False):
        claim = found.claim
        knobs = {line["name"]: line["ran"] for line in shown["setting"] if not line["made_of"]}
        assert knobs == found.settings
        assert shown["pass_probability"] == found.pass_probability
        assert shown["interval"] == list(found.interval)
        assert (shown["evidence"]["passes"], shown["evidence"]["runs"]) == (
            claim.passes,
            claim.runs,
        )
        assert shown["passes_owed"] == claim.passes_owed


def test_the_document_is_plain_json_and_says_what_the_text_says() -> None:
    """ASCII with a schema number; each score and hash of it stands in the text."""
    sheet = SHEETS["scored"]()
    text = json_text(sheet_document(sheet))
    assert text.isascii()
    read, written = json.loads(text), markdown_text(sheet)
    assert read["schema"] == 1
    assert read["head"]["chain"] in written
    assert all(file["sha256"] in written for file in read["attached"])
    for claim in read["scores"]:
        numbers = [claim["score"], *filter(None, claim["subscores"].values())]
        assert all(format_number(number) in written for number in numbers)
        for line in claim["setting"]:
            value = line["ran"]
            assert (value if isinstance(value, str) else format_number(value)) in written


@pytest.mark.parametrize("ceilings", ["everyday = 1.22\nown_risk = 1.28\nhard_stop = 1.3", ""])
def test_ceilings_left_blank_are_said_to_be(ceilings: str) -> None:
    """A voltage without an everyday ceiling is marked above stock."""
    text = DEFINITION.replace("everyday = 1.22\nown_risk = 1.28\nhard_stop = 1.3", ceilings)
    study = Study.create(tomllib.loads(text))
    study.record("pass", settings={"core_base": 1.24}, score=100)
    (claim,) = sheet_without_search(study).claims
    marks = {line.name: line.ran_mark for line in claim.lines if line.ran_mark}
    expected = {"core_voltage": 1.22} if ceilings else {"core_base": None}
    assert {name: mark.everyday for name, mark in marks.items()} == expected
