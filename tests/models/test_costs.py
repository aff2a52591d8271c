"""Expected minutes of an attempt, by hand."""

import pytest

from planner import Study
from planner.models.costs import Costs, costs_of
from planner.models.look_ahead import Minutes
from tests.models.bench import definition

GROUP = {"name": "core", "restart_minutes": 3, "crash_price": 10}


def bench(where: str = "firmware") -> Study:
    """A value takes half a minute to change and 3 to restart into; a reboot 4, a run 5."""
    tables = definition() | {"group": [GROUP]}
    tables["knob"] = [{**tables["knob"][0], "where": where, "change_minutes": 0.5, "group": "core"}]
    return Study.create(tables)


def costs(study: Study) -> Costs:
    """As its runs have shown them."""
    return costs_of(study.history, "core")


@pytest.mark.parametrize(
    ("where", "streak"),
    [
        ("firmware", Minutes(8.5, 3.5 + 0.35 * 5 + 4 + 10, 5.0, 0.35 * 5 + 4 + 10)),
        ("live", Minutes(5.5, 0.5 + 0.35 * 5 + 4 + 10, 5.0, 0.35 * 5 + 4 + 10)),
    ],
)
def test_a_streak_dials_in_once(where: str, streak: Minutes) -> None:
    """Change, restart if in firmware, 5 minutes' run; a failure comes after 35 % of it (common
    practice, no source), costs a reboot, and the price that the person puts on a crash."""
    assert costs(bench(where)).streak({"clock": 9.0}, 5.0) == streak


def test_expected_minutes_are_a_mean() -> None:
    """Held and failed minutes weighed by the chance, without the price: the person's clock."""
    expected = costs(bench()).expected({"clock": 9.0}, 0.75, 5.0)
    assert expected == pytest.approx(0.75 * 8.5 + 0.25 * (3.5 + 0.35 * 5 + 4))


def test_a_machine_that_starts_anew_needs_no_further_restart() -> None:
    """After a crash the new value is dialled in on the way up."""
    study = bench()
    study.record("crash", settings={"clock": 12})
    assert costs(study).branches({"clock": 9.0}, 5.0)[0] == pytest.approx(0.5 + 5)


def test_recorded_minutes_correct_the_definition() -> None:
    """Two repeats that took 2 minutes more than told, against the definition's weight of one run:
    repeats are expected to take 4/3 more, changes as before."""
    study = bench()
    for _ in range(3):
        study.record("pass", settings={"clock": 9}, minutes=8.5 if not study.history.runs else 7)
    assert costs(study).branches({"clock": 9.0}, 5.0)[0] == pytest.approx(5 + 4 / 3)
    assert costs(study).branches({"clock": 8.0}, 5.0)[0] == pytest.approx(8.5)
