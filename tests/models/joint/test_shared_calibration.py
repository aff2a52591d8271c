"""Simulation-based calibration with workloads, boots and stages, as `test_calibration` tells."""

from typing import Any

import numpy as np
import pytest
from scipy import stats

from planner import Study
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint import particles as engine
from planner.models.joint.evidence import evidence_of, merged, speaking
from planner.models.joint.layout import layout_of
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, X, priors_of
from planner.models.joint.shifting import GroupPrior
from planner.models.joint.shifts import shared_of
from tests.models.joint.bench import outcome, settings, small

pytestmark = pytest.mark.slow

EVENINGS, RUNS, PARTICLES, BOOTS = 70, 16, 200, 4


def tables() -> dict[str, Any]:
    """The small study's clock and voltage, both in the firmware, with a second workload."""
    found = small()
    found["workload"].append({"name": "other", "minutes": 10})
    found["knob"] = found["knob"][:2]
    for knob in found["knob"]:
        knob["where"] = "firmware"
    return found


def recorded(runs: list[tuple[dict[str, Any], str, str, float | None]]) -> History:
    """The history of runs, cold boots between them."""
    study = Study.create(tables())
    for place, (setting, workload, ended, seconds) in enumerate(runs):
        if place % (RUNS // BOOTS) == 0:
            study.boot(cold=True)
        study.record(ended, settings=setting, workload=workload, minutes=12, failed_after_s=seconds)
    return study.history


def evening(seed: int) -> list[float]:
    """Ranks of the true edge, the other workload's shift and the boots' spread."""
    rng = np.random.default_rng(seed)
    layout = layout_of(Study.create(tables()).history.definition)
    priors = priors_of(layout)
    pairs = [setting["clock"] for setting in settings(rng, RUNS // 2) for _ in range(2)]
    names = ["loop", "other"] * (RUNS // 2)
    runs: list[Any] = [
        ({"clock": clock, "volts": 1.1}, name, "pass", None)
        for clock, name in zip(pairs, names, strict=True)
    ]
    blank = recorded(runs)
    (shared,) = shared_of(blank, layout, blank.evidence)
    typical = rng.normal(TYPICAL, TYPICAL_SD, 1)
    row = priors[0].draw(rng, typical)[0]
    shift, spread = GroupPrior(shared).draw(rng, 1)[0]
    boots, boot, before = rng.standard_normal(RUNS + 1), 0, None
    for place, (setting, workload, _, _) in enumerate(runs):
        now = (place // (RUNS // BOOTS), setting["clock"])
        boot, before = boot + (now != before), now
        moved = row.copy()
        moved[X] += shift * (workload == "other") + np.exp(spread) * boots[boot]
        at, helps = layout.coordinates([setting]), layout.helps([setting])
        runs[place] = (setting, workload, *outcome(rng, priors, [moved], at, helps))
    history = recorded(runs)
    told = merged(evidence_of(history, layout, (shared,)))
    assert len(speaking(history)) == RUNS
    found = engine.sample(priors, told, seed, PARTICLES, (shared,))
    truths: list[tuple[Array, float]] = [(found.rows[0][:, X], row[X])]
    truths += [(found.draws.groups[0][:, i], v) for i, v in enumerate((shift, spread))]
    return [float(np.mean(drawn < true)) for drawn, true in truths]


@pytest.fixture(scope="module")
def ranks() -> Array:
    """Shape (evenings, 3); runs are told in two stages."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "_FIRST_RUNS", 10)
        return np.array([evening(seed) for seed in range(EVENINGS)])


@pytest.mark.parametrize("place", range(3))
def test_ranks_are_uniform(ranks: Array, place: int) -> None:
    """By a Kolmogorov-Smirnov test; the seeds are fixed."""
    assert stats.kstest(ranks[:, place], "uniform").pvalue > 0.02
