"""Unordered choices in a peak attempt: what they are worth is found, in no order."""

from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.gate import gate_of
from planner.peak.search import peak_search
from tests.models.joint.bench import small

WORTH = {"a": 0.0, "b": -0.02, "c": 0.03, "d": -0.01}
"""Log score of each choice, against stock's, "a"."""


def tables() -> dict[str, Any]:
    """The small study with a live choice."""
    found = small()
    mode = {"name": "mode", "harder": "choice", "choices": list(WORTH), "where": "live"}
    found["knob"].append({**mode, "stock": "a"})
    return found


def played(runs: int) -> Study:
    """A bench on which everything holds up to 4500 MHz, and the choice is worth what it is."""
    study, rng = Study.create(tables()), np.random.default_rng(3)
    for _ in range(runs):
        study.reopen()
        proposal = study.next()
        if proposal is None:
            break
        at = proposal.settings
        assert gate_of(study.history).objections(at) == []
        holds = float(at["clock"]) <= 4500 and float(at["gap"]) >= 24
        score = 100 * (float(at["clock"]) / 4200) ** 0.5 * np.exp(WORTH[str(at["mode"])])
        score *= np.exp(0.001 * rng.standard_normal())
        facts = {"score": float(score)} if holds else {"failed_after_s": 60.0}
        study.record("pass" if holds else "crash", number=proposal.number, minutes=12, **facts)
    return study


@pytest.mark.slow
def test_the_best_choice_is_found_and_kept() -> None:
    """The third of four, the second being the worst."""
    study = played(16)
    best = max((r for r in study.history.runs if r.score), key=lambda r: r.score or 0)
    assert best.ran["mode"] == "c"
    response = peak_search(study.history).response
    assert response is not None
    knobs = {"clock": 4300.0, "volts": 1.1, "gap": 34.0}
    at = response.coordinates([{**knobs, "mode": mode} for mode in ("a", "c")])
    stock, chosen = response.predict(at)[0]
    assert chosen - stock == pytest.approx(WORTH["c"], abs=0.01)


@pytest.mark.parametrize("aim", ["peak", "everyday"])
@pytest.mark.parametrize("runs", range(1, 6))
def test_a_choice_that_is_only_not_worse_is_not_kept(runs: int, aim: str) -> None:
    """After passes at stock alone nothing speaks for another choice, though it fails nothing."""
    own = tables()
    own["study"]["aim"] = aim
    own["group"].append({"name": "modes"})
    own["knob"][-1]["group"] = "modes"
    study = Study.create(own)
    stock = {"clock": 4200.0, "volts": 1.1, "gap": 34.0, "mode": "a"}
    for run in range(runs):
        study.record("pass", settings=stock, minutes=11, score=100.0 + 0.1 * run)
    assert study.recommendation().settings["mode"] == "a"
