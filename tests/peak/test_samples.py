"""What samples of a part tell of the next one."""

import numpy as np
import pytest

from planner import Study
from planner.peak.samples import USUAL_SPREAD, SampleEdge, expected_of, spread_of
from tests.domain.makers import clock, tables, volts


def edges(*means: float, sd: float = 5.0) -> list[SampleEdge]:
    """Samples whose edges lie there."""
    return [SampleEdge(mean, sd, 10) for mean in means]


def test_one_sample_leaves_the_usual_spread() -> None:
    """The next one lies about it, by no less than samples usually differ."""
    spread = spread_of(edges(5000), 1000)
    assert spread.mean == 5000
    assert spread.sd > USUAL_SPREAD * 1000


def test_samples_that_agree_narrow_it_and_those_that_differ_widen_it() -> None:
    """Against one sample alone."""
    one = spread_of(edges(5000), 1000).sd
    assert spread_of(edges(5000, 5001, 4999, 5000), 1000).sd < one
    assert spread_of(edges(4700, 5300, 4800, 5200), 1000).sd > one


@pytest.mark.parametrize("count", [2, 3, 5])
def test_the_next_sample_lies_within(count: int) -> None:
    """As often as stated or oftener, where samples truly differ by a normal of the usual spread."""
    rng = np.random.default_rng(1)
    true, sd, tries, inside = USUAL_SPREAD * 1000, 30.0, 3000, 0
    for _ in range(tries):
        *lie, following = rng.normal(5000, true, count + 1)
        seen = [SampleEdge(float(rng.normal(m, sd)), sd, 10) for m in lie]
        low, high = spread_of(seen, 1000).expected
        inside += low <= following <= high
    assert 0.78 <= inside / tries <= 0.9


def test_unmoved_knobs_tell_nothing() -> None:
    """Only what a run moved is told, and only knobs of the new study are asked for."""
    study = Study.create(tables(clock(), volts(supports=["clock"])))
    assert study.sample() == {}
    study.record("pass", settings={"clock": 4600})
    told = study.sample()
    assert set(told) == {"clock"}
    assert expected_of([told], {"other": 100.0}) == {}
    assert expected_of([told, {}], {"clock": 1000.0})["clock"].samples == 1
