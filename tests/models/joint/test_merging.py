"""Runs that say the same, told once or each for itself: the likelihood is the same."""

import numpy as np
import pytest

from planner import Study
from planner.models.joint.evidence import evidence_of, merged
from planner.models.joint.layout import layout_of
from planner.models.joint.prior import priors_of
from planner.models.joint.state import Draws, state_of, told_of
from tests.models.joint.bench import settings, small

NONE = np.array([], np.intp)


def test_merged_runs_weigh_as_much() -> None:
    """Particle by particle, to the rounding of single precision."""
    rng = np.random.default_rng(1)
    study = Study.create(small())
    few = settings(rng, 4)
    for _ in range(30):
        setting, ended = few[int(rng.integers(4))], str(rng.choice(["pass", "crash"]))
        seconds = 200.0 if ended == "crash" else None
        study.record(ended, settings=setting, minutes=12, failed_after_s=seconds)
    history = study.history
    layout = layout_of(history.definition)
    priors, evidence = priors_of(layout), evidence_of(history, layout)
    typical = rng.normal(-0.8, 0.3, 50)
    draws = Draws([p.draw(rng, typical) for p in priors], typical[:, None], [], [])
    once = merged(evidence)
    assert len(once.runs) <= 8
    assert once.weight.sum() == 30
    logs = [
        state_of(told_of(priors, (), told, NONE, np.arange(len(told.runs))), draws).logs[:, 1]
        for told in (evidence, once)
    ]
    assert logs[0] == pytest.approx(logs[1], rel=1e-4, abs=1e-3)
    assert np.ptp(logs[0]) > 10
