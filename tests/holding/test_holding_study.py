"""Settings that must keep holding, through the study, on rigs of another family."""

from math import log
from typing import Any

import pytest

from planner import Study
from planner.domain.run import Run
from planner.errors import DefinitionError
from planner.gate import gate_of
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.rig import EveningRig
from tests.peak.evenings import played

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def everyday() -> tuple[Study, EveningRig]:
    """Two hours for every day."""
    return played(3, 120, aim="everyday")


@pytest.fixture(scope="module")
def hour() -> tuple[Study, EveningRig]:
    """An hour on another rig."""
    return played(5, 60, aim="everyday")


@pytest.fixture(scope="module")
def trimmed() -> tuple[Study, EveningRig]:
    """An hour of trimming."""
    return played(4, 70, aim="trim")


def test_what_is_kept_meets_the_target(everyday: tuple[Study, EveningRig]) -> None:
    """By the rig's own chance, and it is faster than stock."""
    study, rig = everyday
    kept = study.recommendation()
    assert kept.holds
    assert rig.pass_probability(kept.settings) >= 0.9
    assert rig.log_gain(kept.settings) > 0.01


def test_alternatives_differ_and_may_be_run(hour: tuple[Study, EveningRig]) -> None:
    """From the proposal and from each other; none lies above an everyday ceiling."""
    study, _ = hour
    proposal = study.next()
    assert proposal is not None
    others = study.alternatives(3)
    assert others
    found = [proposal.settings, *(other.settings for other in others)]
    assert all(one != two for i, one in enumerate(found) for two in found[:i])
    for other in others:
        assert gate_of(study.history, everyday_only=True).objections(other.settings) == []
        assert 0 < other.pass_probability <= 1


def test_who_goes_on_all_the_same_runs_nothing_worse(trimmed: tuple[Study, EveningRig]) -> None:
    """Closed and reopened, it asks for no higher voltages than have passed."""
    study, rig = trimmed
    volts = [name for name, knob in rig.knobs.items() if knob.unit == "V"]
    study.close("enough")
    study.reopen()
    proposal = study.next()
    assert proposal is not None
    passed = [run.ran for run in study.history.runs if run.outcome.held]
    least = min(sum(log(float(ran[name])) for name in volts) for ran in passed)
    assert sum(log(float(proposal.settings[name])) for name in volts) <= least + 1e-9


def test_trimming_lowers_voltages_alone(trimmed: tuple[Study, EveningRig]) -> None:
    """Clocks and timings stay as they were."""
    study, rig = trimmed
    volts = {name for name, knob in rig.knobs.items() if knob.unit == "V"}
    for run in study.history.runs:
        assert {n for n, v in run.settings.items() if v != rig.stock[n]} <= volts
        assert all(float(run.settings[n]) <= float(rig.stock[n]) for n in volts)


def test_what_is_trimmed_holds(trimmed: tuple[Study, EveningRig]) -> None:
    """Less voltage than stock, and it truly passes."""
    study, rig = trimmed
    kept = study.recommendation()
    assert kept.holds
    assert any(float(kept.settings[n]) < float(rig.stock[n]) for n in ("core_voltage",))
    assert rig.pass_probability(kept.settings) >= 0.9


def test_it_is_kept_within_what_passed(everyday: tuple[Study, EveningRig]) -> None:
    """The recommendation is no harder than some setting that passed, knob by knob."""
    study, rig = everyday
    kept = study.recommendation().settings
    passed = [run for run in study.history.runs if run.outcome.held]
    for name, knob in rig.knobs.items():
        if knob.supports or kept[name] == rig.stock[name]:
            continue
        hardest = max(knob.hardness(float(run.ran[name])) for run in passed)
        assert knob.hardness(float(kept[name])) <= hardest


def test_hours_between_failures_ask_for_more(hour: tuple[Study, EveningRig]) -> None:
    """A setting that must hold for weeks is no faster than one that passes nine runs of ten."""
    study, rig = hour
    usual = study.recommendation()
    asked = Study.create({**rig.definition, **_asking(rig, hours_between_failures=200)})
    for run in study.history.runs:
        _told(asked, run)
    strict = asked.recommendation()
    assert rig.log_gain(strict.settings) <= rig.log_gain(usual.settings)


def test_a_warmer_room_asks_for_more(hour: tuple[Study, EveningRig]) -> None:
    """The warmest room that it must hold in leaves no more than the one of the evening."""
    study, rig = hour
    asked = Study.create({**rig.definition, **_asking(rig, warmest_room=45)})
    for run in study.history.runs:
        _told(asked, run)
    warm, usual = asked.recommendation(), study.recommendation()
    assert rig.log_gain(warm.settings) <= rig.log_gain(usual.settings)


def test_claims_are_confirmed() -> None:
    """With a confidence asked for, what is kept is run until the claim is met or fails."""
    study, _ = played(5, 200, ["graphics_clock"], aim="everyday", confidence=0.6)
    kept = study.recommendation()
    assert kept.claim.met
    assert kept.claim.passes == kept.claim.runs >= 9  # 0.9^9 < 0.4: success run
    assert f"passed {kept.claim.passes} of {kept.claim.runs} runs" in (study.closing() or "")


@pytest.mark.parametrize("key", ["hours_between_failures", "warmest_room"])
def test_nonsense_is_refused(key: str) -> None:
    """The message names the key."""
    tables = evening_rig(1).definition
    tables["study"][key] = "much"
    with pytest.raises(DefinitionError, match=key):
        Study.create(tables)


def _asking(rig: EveningRig, **goal: Any) -> dict[str, Any]:
    return {"study": {**rig.definition["study"], "aim": "everyday", **goal}}


def _told(study: Study, run: Run) -> None:
    facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
    facts |= {"minutes": run.minutes, "failed_after_s": run.failed_after_s}
    study.record(run.outcome.value, settings=run.settings, **facts)
