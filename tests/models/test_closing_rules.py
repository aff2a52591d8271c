"""Every closing rule in a scenario of its own, its figures recomputed from the ledger's text."""

import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from planner import Study
from planner.models.edge_search import edge_search
from tests.models.bench import definition, drive, entries, run_all, studied

RECOVERY = 4.0  # minutes that a crash costs on these benches


def closed(study: Study, edge: float) -> str:
    """The reason that the planner closes with where all up to `edge` holds."""
    drive(study, lambda value, _: value <= edge)
    reason = study.closing()
    assert reason is not None
    return reason


def ran(folder: Path) -> list[tuple[float, bool, float]]:
    """Value, whether it held, and minutes of each run, from the ledger's text alone."""
    asked = {body["run"]: body["settings"]["clock"] for body in entries(folder, "proposed")}
    runs = []
    for body in entries(folder, "run"):
        value = {"clock": asked.get(body["run"]), **body.get("settings", {})}["clock"]
        held = body["outcome"] == "pass"
        ran_for = min(body["run_minutes"], body.get("failed_after_s", 1e9) / 60)
        runs.append((value, held, body.get("minutes", ran_for + (0 if held else RECOVERY))))
    return runs


def test_minutes_spent(tmp_path: Path) -> None:
    """It closes with the first run that brings the minutes to the number given, and says both;
    minutes that were told count, else run and recovery."""
    study = Study.create(definition(minutes=40), tmp_path / "s")
    study.record("crash", settings={"clock": 15}, failed_after_s=90)
    study.record("pass", settings={"clock": 9}, minutes=11.5)
    reason = closed(study, 11)
    minutes = [spent for _, _, spent in ran(tmp_path / "s")]
    assert minutes[:2] == [5.5, 11.5]
    assert sum(minutes[:-1]) < 40 <= sum(minutes)
    assert reason == f"minutes spent: {sum(minutes):g} of 40"
    assert entries(tmp_path / "s", "closed")[-1] == {"by": "rule", "reason": reason}


def test_no_minutes_given_never_run_out() -> None:
    """Without a number of minutes they close nothing, however many are spent."""
    study = studied("4+")
    study.record("pass", settings={"clock": 4}, minutes=9000)
    assert study.closing() is None


def test_nothing_permitted() -> None:
    """A reading past its stop at the easiest value closes the whole range, by name."""
    tables = definition() | {"reading": [{"name": "coolant", "unit": "C", "stop": 60}]}
    study = Study.create(tables)
    study.record("pass", settings={"clock": 0}, readings={"coolant": 61})
    assert study.next() is None
    reason = study.closing() or ""
    assert reason.startswith("nothing may be proposed for clock: run 1 pushed coolant past")


def test_nothing_holds(tmp_path: Path) -> None:
    """Where even the easiest value crashes it says so, with its chance and the target."""
    study = Study.create(definition(), tmp_path / "s")
    reason = closed(study, -1)
    chance = study.recommendation().pass_probability
    assert reason == (f"nothing in range holds: even 0 passes with {chance:.0%}, 90% is asked for")
    assert chance < 0.9
    assert not study.recommendation().holds
    assert any(value == 0 for value, _, _ in ran(tmp_path / "s"))


@pytest.mark.parametrize("edge", [1, 6, 11, 19])
def test_edge_known(tmp_path: Path, edge: int) -> None:
    """It names a value at most one step too easy, its chance, and an interval that holds the
    edge; some run held there or beyond."""
    study = Study.create(definition(), tmp_path / "s")
    reason = closed(study, edge)
    found = re.match(r"edge known well enough: (\d+) passes with (\d+)%, the edge lies", reason)
    assert found
    assert int(found[1]) in (edge - 1, edge)
    assert any(held and value >= int(found[1]) for value, held, _ in ran(tmp_path / "s"))
    kept = study.recommendation()
    assert kept.settings["clock"] == int(found[1])
    assert int(found[2]) == round(100 * kept.pass_probability)
    low, high = (float(end) for end in re.findall(r"\d+\.?\d*", reason.split("between")[1]))
    assert low <= edge + 1
    assert high >= edge


def test_an_edge_beyond_what_is_permitted_is_said_to_be() -> None:
    """Under a ceiling of 14 a wide interval above it needs a word; where the edge lies well within
    the range there is none."""
    tables = definition()
    tables["knob"] = [{**tables["knob"][0], "everyday": 14}]
    study = Study.create(tables)
    run_all(study, "13+*3")
    reason = study.closing() or ""
    assert reason.startswith("edge known well enough: 13 passes")
    assert reason.endswith("; 14 is the last value permitted")
    assert "permitted" not in closed(Study.create(definition()), 6)


def test_nothing_left_under_the_ceilings() -> None:
    """Once the highest permitted value has held 22 times in a row, which shows 0.9 with 90 %
    confidence, it is the answer, under a ceiling too; asked freely, the planner ends at most one
    step below it."""
    tables = definition()
    tables["knob"] = [{**tables["knob"][0], "everyday": 14}]
    for made, top in ((definition(), 20), (tables, 14)):
        study = Study.create(made)
        run_all(study, f"{top}+*22")
        reason = study.closing() or ""
        assert reason.startswith(f"nothing left under the ceilings: {top} passes with ")
        asked = Study.create(made)
        closed(asked, 20)
        assert asked.recommendation().settings["clock"] in (top - 1, top)


def test_gains_within_noise(tmp_path: Path) -> None:
    """Scores sink a little towards the edge, so the line's expected improvement is less than
    their noise: both recomputed by other code (polyfit, scipy) from the ledger's scores."""
    study = Study.create(definition(workload={"scored": True}), tmp_path / "s")
    scores = {0: 1002.0, 2: 998.0, 4: 1001.0, 6: 996.0, 8: 1000.0, 10: 997.0, 12: 999.0}
    for value, score in scores.items():
        study.record("pass", settings={"clock": value}, score=score)
    study.record("crash", settings={"clock": 16})
    reason = study.closing() or ""
    found = re.match(
        r"gains within run-to-run noise: going up to (\d+) is worth ([\d.e-]+)", reason
    )
    assert found, reason
    gain, noise = expected_gain(entries(tmp_path / "s", "run"), int(found[1]))
    differ = re.search(r"runs differ by ([\d.]+)", reason)
    assert differ
    assert float(found[2]) == pytest.approx(gain, rel=0.06)
    assert float(differ[1]) == pytest.approx(noise, rel=0.06)


def expected_gain(runs: list[dict[str, Any]], at: int) -> tuple[float, float]:
    """Expected improvement of a straight line at `at` over the best score, and its residual sd."""
    scored = [(body["settings"]["clock"], body["score"]) for body in runs if "score" in body]
    x, y = np.array(scored).T
    slope, start = np.polyfit(x, y, 1)
    noise = np.sqrt(((y - start - slope * x) ** 2).sum() / (len(x) - 2))
    error = noise * np.sqrt(1 / len(x) + (at - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum())
    mean, best = start + slope * at, y.max()
    z = (mean - best) / error
    return float((mean - best) * norm.cdf(z) + error * norm.pdf(z)), float(noise)


def test_scores_that_still_rise_close_nothing() -> None:
    """Ten points a step against a noise of one: going on is worth it."""
    study = Study.create(definition(workload={"scored": True}))
    for value, wobble in zip(range(4, 9), (0.5, -1.0, 1.0, -0.5, 0.0), strict=True):
        study.record("pass", settings={"clock": value}, score=1000 + 10 * value + wobble)
    assert "noise" not in (study.closing() or "")


def test_no_run_is_worth_its_minutes() -> None:
    """Runs of 30 hours for a doubt that is small: the best one left, its minutes and what it
    would settle, which is part of the doubt."""
    study = Study.create(definition(workload={"minutes": 1800}))
    run_all(study, "4+ 10+ 13-")
    reason = study.closing() or ""
    found = re.search(r"the best one left, (\d+) for (\d+) min, would settle (\d+)%", reason)
    assert reason.startswith("no further run is worth its minutes: ")
    assert found, reason
    assert 0 <= int(found[1]) <= 20
    assert int(found[2]) >= 600
    assert 0 < int(found[3]) <= 100
    # the same doubt at five minutes a run is worth going on for
    assert studied("4+ 10+ 13-").closing() is None


def test_it_is_not_closed_on_what_never_held_a_whole_run() -> None:
    """However sure the model is, of runs that were a tenth too short: one that held to the end
    at the value of least loss or beyond has to bear it out, and until then stock is kept."""
    study = studied("12-*3")
    for _ in range(20):
        study.record("pass", settings={"clock": 10}, run_minutes=4.5)
    search = edge_search(study.history)
    assert search is not None
    assert search.decision.loss < 0.25
    assert study.closing() is None
    assert study.recommendation().settings == {"clock": 4}
    study.record("pass", settings={"clock": search.recommended})
    assert study.closing() is not None
    assert study.recommendation().settings == {"clock": search.recommended}


def test_closing_by_hand_comes_first_and_reopening_overrules_the_rules() -> None:
    """The person's reason stands; once reopened, only spent minutes or an empty range close."""
    study = Study.create(definition(minutes=300))
    first = closed(study, 11)
    study.close("tired")
    assert study.closing() == "tired"
    study.reopen()
    assert study.closing() is None
    assert study.next() is not None
    study.record("pass", settings={"clock": 3}, minutes=300)
    assert (study.closing() or "").startswith("minutes spent: ")
    assert first != study.closing()


def test_a_closed_study_says_the_same_when_opened_again(tmp_path: Path) -> None:
    """The reason is a function of the ledger, and is written once."""
    reason = closed(Study.create(definition(), tmp_path / "s"), 7)
    again = Study.open(tmp_path / "s")
    assert again.next() is None
    assert again.closing() == reason
    assert [body["reason"] for body in entries(tmp_path / "s", "closed")] == [reason]
