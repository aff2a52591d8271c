"""Confirming runs that a study asks for: how many are owed, and what counts towards them."""

from math import log
from pathlib import Path

import pytest

from planner import Study
from tests.models.bench import definition, drive, entries, run_all, studied


@pytest.mark.parametrize(
    ("target", "confidence", "passes"), [(0.9, 0.9, 22), (0.9, 0.95, 29), (0.95, 0.9, 45)]
)
def test_passes_in_a_row(tmp_path: Path, target: float, confidence: float, passes: int) -> None:
    """ln(1 - C) / ln(R), rounded up: 22 runs without a failure show 0.9 with confidence 0.9
    (success run, Wilks 1941; 22, 29 and 45 are the usual table values, from memory)."""
    assert passes - 1 < log(1 - confidence) / log(target) <= passes
    study = Study.create(definition(target=target, confidence=confidence), tmp_path / "s")
    drive(study, lambda value, _: value <= 11)
    kept = study.recommendation()
    assert kept.claim.met
    assert passes_in_ledger(tmp_path / "s", float(kept.settings["clock"])) == passes
    assert (kept.claim.passes, kept.claim.runs) == (passes, passes)
    assert kept.claim.lower_bound >= target


def passes_in_ledger(folder: Path, value: float) -> int:
    """Passes at exactly a value, from the ledger's text alone."""
    asked = {body["run"]: body["settings"]["clock"] for body in entries(folder, "proposed")}
    runs = entries(folder, "run")
    return sum(body["outcome"] == "pass" and asked[body["run"]] == value for body in runs)


def test_the_claim_closes_one_short_of_nothing() -> None:
    """With 21 passes one is owed and it goes on; with the 22nd it closes."""
    study = studied("13- 12-*22 11-*22 10+*21", confidence=0.9)
    claim = study.recommendation().claim
    assert (claim.passes, claim.passes_owed, claim.met) == (21, 1, False)
    assert study.closing() is None
    proposal = study.next()
    assert proposal is not None
    assert proposal.settings["clock"] == 10
    assert "21 of 21 held there, owed: 1 more pass" in proposal.reason
    study.record("pass", number=proposal.number)
    assert study.closing() is not None


def test_a_failure_spoils_the_claim_of_its_value() -> None:
    """So many passes and no failure was the plan: after a failure at 11 in its confirming runs
    the claim is made of an easier value, and never of 11."""
    study = Study.create(definition(confidence=0.9))
    failed: list[float] = []

    def holds(value: float, before: int) -> bool:
        if before == 15 and not failed:
            failed.append(value)
            return False
        return value <= 11

    drive(study, holds)
    kept = study.recommendation()
    assert failed
    assert float(kept.settings["clock"]) < failed[0]
    assert kept.claim.met
    assert kept.claim.passes >= 22


def test_cold_boots_are_counted(tmp_path: Path) -> None:
    """Three cold boots asked for: the planner asks for cold starts until three have passed, and
    the ledger has as many passes at the value after a cold boot."""
    study = Study.create(definition(confidence=0.9, cold_boots=3), tmp_path / "s")
    ran = drive(study, lambda value, _: value <= 11)
    claim = study.recommendation().claim
    assert claim.met
    assert claim.cold_boots == 3
    assert [start for *_, start in ran if start] == ["from a cold start"] * 3
    colds = [body for body in entries(tmp_path / "s", "run") if body.get("boot") == "cold"]
    assert [body["outcome"] for body in colds] == ["pass"] * 3


@pytest.mark.parametrize(
    ("boots", "counted"),
    [
        (["cold", "cold"], 2),
        (["cold", None], 1),  # two runs of one boot
        (["warm", "warm"], 0),
        (["cold", "warm", "cold"], 2),
        ([None], 0),
    ],
)
def test_what_a_cold_boot_is(boots: list[str | None], counted: int) -> None:
    """Each told cold boot with a pass counts once; a warm one, or one not told of, does not."""
    study = Study.create(definition(cold_boots=3))
    for boot in boots:
        study.record("pass", settings={"clock": 10}, **({"boot": boot} if boot else {}))
    run_all(study, "10+*20 11-*20")
    claim = study.recommendation().claim
    assert study.recommendation().settings["clock"] == 10
    assert (claim.cold_boots, claim.cold_boots_owed) == (counted, 3 - counted)


def test_a_failed_cold_boot_does_not_count() -> None:
    """Only passes confirm; and after a told change the old ones don't."""
    study = Study.create(definition(cold_boots=2))
    study.record("crash", settings={"clock": 10}, boot="cold")
    study.record("pass", settings={"clock": 10}, boot="cold")
    run_all(study, "10+*40 11-*40")
    assert study.recommendation().claim.cold_boots == 1
    study.changed("new firmware")
    run_all(study, "10+*30 11-*30")
    assert study.recommendation().settings["clock"] == 10
    assert study.recommendation().claim.cold_boots == 0
    assert study.recommendation().claim.passes == 30


def test_no_claim_asked_for_owes_nothing() -> None:
    """The planner closes on the decision alone, and says what the runs bear out all the same."""
    study = Study.create(definition())
    drive(study, lambda value, _: value <= 11)
    claim = study.recommendation().claim
    assert (claim.passes_owed, claim.cold_boots_owed, claim.spoilt) == (0, 0, False)
    assert claim.lower_bound <= 0.1 ** (1 / max(claim.passes, 1)) + 1e-9
