"""A frontier of two stations against a published fit of two parallel dose curves.

Venables and Ripley, Modern Applied Statistics with S, 4th ed., section 7.2: budworms dead of 20 at
log2 doses 0 to 5, males and females, logit with an intercept for each sex and one slope. A death
is a failure, the females, which bear more, are the easier station, one shape serves both.
"""

import pytest

from planner import Study
from tests.published.test_binary_regression import FEMALE, MALE

PUBLISHED = {0: 2.229262, 1: 3.263587}
"""Dose that kills half: the females' as printed by `dose.p`, the males' from the same fit."""
STANDARD_ERROR = 0.2298
"""Of the females' dose, as printed."""


@pytest.fixture(scope="module")
def budworms() -> Study:
    """All 240 runs; the range is wide enough for curves as flat as these."""
    dose = {"name": "dose", "low": -10, "high": 15, "step": 0.25, "stock": 0}
    sex = {"name": "sex", "low": 0, "high": 1, "step": 1, "stock": 0}
    sex |= {"harder": "down", "supports": ["dose"], "everyday": 1}
    goal = {"name": "budworms", "aim": "frontier", "knob": "dose", "along": "sex", "target": 0.5}
    study = Study.create(
        {"study": goal, "knob": [dose, sex], "workload": [{"name": "three days", "minutes": 5}]}
    )
    for place, dead in enumerate((MALE, FEMALE)):
        for at, count in enumerate(dead):
            for number in range(20):
                outcome = "crash" if number < count else "pass"
                study.record(outcome, settings={"dose": at, "sex": place})
    return study


@pytest.mark.parametrize("sex", [0, 1])
def test_each_edge_is_the_published_dose_within_two_standard_errors(
    budworms: Study, sex: int
) -> None:
    """The model's curve leans, the logit does not: by cloglog the doses are 2.387 and 3.522."""
    point = budworms.frontier().points[sex]
    assert point.edge == pytest.approx(PUBLISHED[sex], abs=2 * STANDARD_ERROR)
    assert point.interval[0] <= PUBLISHED[sex] <= point.interval[1]


def test_the_interval_is_about_as_wide_as_the_published_error_says(budworms: Study) -> None:
    """90 % of a normal with that standard error, 3.29 times it across, within a third."""
    low, high = budworms.frontier().points[1].interval
    assert (high - low) / (3.29 * STANDARD_ERROR) == pytest.approx(1, abs=0.34)


def test_females_bear_as_much_more_as_published(budworms: Study) -> None:
    """1.0343 doublings, the ratio of the sexes' contrast to the slope."""
    male, female = budworms.frontier().points
    assert female.edge - male.edge == pytest.approx(1.0343, abs=STANDARD_ERROR)
