"""What must not matter: the knob's unit and direction, who asked for a run, how fine a step is."""

from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.domain.grid import Grid
from planner.domain.knob import Harder, Knob
from planner.models.edge import edge_posterior
from planner.models.edge_prior import edge_prior, grid_for
from tests.models.bench import definition, studied

RUNS = "4+ 12- 8+ 10+ 11- 10+ 9+ 11+"


def knob(**facts: Any) -> Knob:
    """A clock from 0 to 20, stock 4."""
    return Knob(**{"name": "clock", "stock": 4.0, "grid": Grid(0.0, 20.0, 1.0), **facts})


def turned(low: float, step: float, harder: str) -> tuple[Study, list[float]]:
    """The runs above on a knob of another scale or direction, and its values by hardness."""
    values = [low + step * at for at in range(21)][:: 1 if harder == "up" else -1]
    tables = definition()
    tables["knob"] = [
        {**tables["knob"][0], "low": low, "high": low + 20 * step, "step": step}
        | {"stock": values[4], "harder": harder}
    ]
    study = Study.create(tables)
    for word in RUNS.split():
        outcome = "pass" if word.endswith("+") else "crash"
        study.record(outcome, settings={"clock": values[int(word[:-1])]})
    return study, values


@pytest.mark.parametrize(
    ("low", "step", "harder"), [(4000, 25, "up"), (0, 1, "down"), (-3, 0.5, "down")]
)
def test_unit_and_direction_do_not_matter(low: float, step: float, harder: str) -> None:
    """The same runs by hardness give the same edge, recommendation and next setting."""
    plain, (other, values) = studied(RUNS), turned(low, step, harder)
    sign = step if harder == "up" else -step
    one, two = plain.edges()["clock"], other.edges()["clock"]
    assert two.value == pytest.approx(values[0] + sign * one.value)
    assert two.interval == pytest.approx(sorted(values[0] + sign * end for end in one.interval))
    assert (two.beyond_easy, two.beyond_hard) == pytest.approx((one.beyond_easy, one.beyond_hard))
    kept = plain.recommendation().settings["clock"], other.recommendation().settings["clock"]
    assert kept[1] == values[int(kept[0])]
    asked = plain.next(), other.next()
    assert [a is None for a in asked] in ([True, True], [False, False])
    if asked[0] and asked[1]:
        assert asked[1].settings["clock"] == values[int(asked[0].settings["clock"])]


def test_who_asked_does_not_matter() -> None:
    """Runs that the planner proposed and the same runs made unasked say the same."""
    asked, alone = Study.create(definition()), Study.create(definition())
    for _ in range(4):
        proposal = asked.next()
        assert proposal is not None
        value = float(proposal.settings["clock"])
        outcome = "pass" if value <= 11 else "crash"
        asked.record(outcome, number=proposal.number)
        alone.record(outcome, settings={"clock": value})
    assert asked.edges() == alone.edges()
    assert asked.recommendation() == alone.recommendation()


@pytest.mark.parametrize("finer", [2, 5])
def test_fine_steps_change_no_belief(finer: int) -> None:
    """Past 40 steps a range is taken in fractions: the prior's quantiles, in the knob's unit, stay
    where they are to a hundredth of the range."""
    quantiles = []
    for step in (0.25, 0.25 / finer):
        made = knob(grid=Grid(0.0, 20.0, step))
        grid = grid_for(made, 0.9, None)
        below = edge_prior(grid, made).sum(axis=0).cumsum()
        at = np.interp([0.05, 0.25, 0.5, 0.75, 0.95], below, grid.edges + grid.cell / 2)
        quantiles.append(at * step)
    assert quantiles[1] == pytest.approx(quantiles[0], abs=0.2)


def heights(made: Knob) -> dict[float, float]:
    """Prior density of the edge at some places, against that at 10."""
    grid = grid_for(made, 0.9, None)
    mass = edge_prior(grid, made).sum(axis=0)
    near = {at: int(np.abs(grid.edges - at).argmin()) for at in (-3.0, 2.0, 10.0, 15.0, 23.0)}
    return {at: float(mass[place] / mass[near[10.0]]) for at, place in near.items()}


def test_the_prior_is_what_it_says() -> None:
    """A quarter under the stock value; 0.35 outside the range, falling to a third of that over
    four steps; eight times as much where the person expects the edge (common practice)."""
    plain, told = heights(knob()), heights(knob(expected=(14.0, 16.0)))
    assert plain[2.0] == pytest.approx(0.25)
    assert plain[15.0] == pytest.approx(1.0)
    assert plain[23.0] == pytest.approx(0.35 * np.exp(-3 / 4), rel=0.05)
    assert plain[-3.0] == pytest.approx(0.25 * 0.35 * np.exp(-3 / 4), rel=0.05)
    assert told[15.0] == pytest.approx(8.0)


def test_a_knob_that_gets_harder_downwards_has_the_mirrored_prior() -> None:
    """Hardness is all that the prior knows."""
    up, down = knob(), knob(harder=Harder.DOWN, stock=16.0)
    assert (
        edge_prior(grid_for(up, 0.9, None), up) == edge_prior(grid_for(down, 0.9, None), down)
    ).all()


@pytest.mark.parametrize("runs", ["", RUNS, "0-*3 2-", "20+*3", "19+ 20-*2"])
def test_what_lies_beyond_the_range(runs: str) -> None:
    """The probabilities past either end are where the quantiles leave the range."""
    study = studied(runs)
    clock, edge = study.history.definition.knobs["clock"], study.edges()["clock"]
    found = edge_posterior(study.history, clock, study.history.definition.stock)
    assert found.quantile(edge.beyond_easy) == pytest.approx(0.0, abs=found.grid.cell)
    assert found.quantile(1 - edge.beyond_hard) == pytest.approx(20.0, abs=found.grid.cell)
    assert found.quantile(0.5) == pytest.approx(edge.value)
