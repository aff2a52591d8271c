"""What the rigs say of themselves against what happens on them."""

import math

import numpy as np
import pytest
from scipy import integrate, stats

from planner.domain.knob import Harder
from planner.errors import InputError
from planner.rigs.families import FAMILIES, fine_rig, slack_rig
from planner.rigs.normal import log_cdf
from planner.rigs.one_knob import TARGET, OneKnobRig

pytestmark = pytest.mark.slow

RUNS = 4000
every_family = pytest.mark.parametrize("family", FAMILIES)


def near_edge(rig: OneKnobRig, chance: float) -> float:
    """The value of the knob whose chance to pass lies nearest to `chance`."""
    return min(map(float, rig.knob.values), key=lambda v: abs(rig.pass_probability(v) - chance))


@every_family
@pytest.mark.parametrize("chance", [0.9, 0.4])
def test_as_many_runs_pass_as_the_truth_says(family: str, chance: float) -> None:
    """Law of large numbers: within 4 standard errors of the integral over the run's shift."""
    rig = FAMILIES[family](3)
    value = near_edge(rig, chance)
    truth = rig.pass_probability(value)
    passed = sum(rig.run({"knob": value}).outcome == "pass" for _ in range(RUNS))
    assert abs(passed / RUNS - truth) <= 4 * math.sqrt(truth * (1 - truth) / RUNS) + 1e-9


@pytest.mark.parametrize("seed", range(8))
def test_the_truth_is_the_integral_that_it_is_said_to_be(seed: int) -> None:
    """E over the shift of Phi((zero - h + shift) / noise)^300, by scipy's quadrature."""
    rig = slack_rig(seed)
    value = near_edge(rig, 0.6)
    physics, hardness = rig.physics, rig.knob.hardness(value)

    def integrand(shift: float) -> float:
        held = stats.norm.logcdf((physics.zero - hardness + shift) / physics.noise)
        return math.exp(300 * held) * stats.norm.pdf(shift, scale=physics.spread)

    ends = (-8 * physics.spread, 8 * physics.spread)
    held = integrate.quad(integrand, *ends, limit=500, epsabs=1e-11)[0]
    assert rig.pass_probability(value) == pytest.approx((1 - rig.stray) * held, abs=1e-5)


def test_the_normal_distribution_is_scipys() -> None:
    """The table of logs against scipy.stats.norm, tails included."""
    x = np.linspace(-11.9, 11.9, 7777)
    assert np.allclose(log_cdf(x), stats.norm.logcdf(x), rtol=1e-6, atol=1e-8)


@every_family
@pytest.mark.parametrize("seed", range(5))
def test_harder_never_passes_more_often(family: str, seed: int) -> None:
    """From the easiest value to the hardest the chance only falls."""
    rig = FAMILIES[family](seed)
    chances = [rig.pass_probability(float(value)) for value in rig.knob.values]
    assert np.all(np.diff(chances) <= 1e-12)


@every_family
@pytest.mark.parametrize("target", [0.5, 0.9, 0.97])
def test_the_chance_crosses_the_target_at_the_edge(family: str, target: float) -> None:
    """The edge is where a nominal run passes with the target's probability."""
    rig = FAMILIES[family](1)
    assert rig.pass_probability(rig.edge(target)) == pytest.approx(target, abs=1e-4)


@every_family
@pytest.mark.parametrize("seed", range(5))
def test_the_best_sound_value_is_the_last_one_before_the_edge(family: str, seed: int) -> None:
    """It is sound, the next harder value isn't; None where the edge lies before the range."""
    rig = FAMILIES[family](seed)
    edge, best = rig.knob.hardness(rig.edge()), rig.best_sound()
    if best is None:
        assert edge < 0
    else:
        assert rig.knob.values.index(best) == min(math.floor(edge), len(rig.knob.values) - 1)


def test_no_edge_lies_above_what_stray_crashes_leave() -> None:
    """A target that even the easiest value misses by stray crashes is refused."""
    rig = slack_rig(0)
    with pytest.raises(InputError, match="target"):
        rig.edge(1 - rig.stray)


@pytest.mark.parametrize("seed", range(10))
def test_each_family_puts_its_edge_where_it_says(seed: int) -> None:
    """Between stock and the hardest value; beyond the range; below the stock value."""

    def place(family: str) -> tuple[float, int, int]:
        rig = FAMILIES[family](seed)
        stock = rig.knob.values.index(rig.knob.stock)
        return rig.knob.hardness(rig.edge()), stock, len(rig.knob.values) - 1

    for family in ("slack", "alpha-power", "fine"):
        edge, stock, top = place(family)
        assert stock - 1e-3 <= edge <= top + 1e-3
    edge, _, top = place("beyond")
    assert edge < 0 or edge > top
    edge, stock, _ = place("unsound-stock")
    assert 0 <= edge + 1e-3 < stock


@pytest.mark.parametrize("seed", range(10))
def test_families_have_the_sizes_that_they_say(seed: int) -> None:
    """13 to 41 values, 100 to 400 fine ones; stock in the easier third."""
    for family, build in FAMILIES.items():
        knob = build(seed).knob
        low, high = (100, 400) if family == "fine" else (13, 41)
        assert low <= len(knob.values) <= high
        assert knob.values.index(knob.stock) <= (len(knob.values) - 1) / 3


def test_fine_steps_are_finer_than_the_edge_is_wide() -> None:
    """From 90 to 10 % (stray crashes aside) takes 2.5 steps and more, up to some 15."""
    for seed in range(10):
        rig = fine_rig(seed)
        width = rig.knob.hardness(rig.edge(0.1)) - rig.knob.hardness(rig.edge(TARGET))
        assert 2.5 <= width <= 15


def test_both_directions_and_many_scales_occur() -> None:
    """Harder may be up or down, and a step anything from thousandths to hundreds."""
    knobs = [slack_rig(seed).knob for seed in range(60)]
    assert {knob.harder for knob in knobs} == {Harder.UP, Harder.DOWN}
    steps = [knob.grid.step for knob in knobs if knob.grid]
    assert max(steps) / min(steps) > 1e4
