"""QUEST+ against the sequences printed in Watson 2017, Journal of Vision 17(3):10."""

from itertools import product

import numpy as np

from tests.evidence.one_knob import load

rule = load("quest_plus_rule")

STIMULI = np.arange(-40.0, 1.0)
GUESS, LAPSE = 0.5, 0.02


def play(slopes: tuple[float, ...], answers: str) -> tuple[list[int], np.ndarray, np.ndarray]:
    """Stimuli asked for, the last posterior, and its parameter values (threshold, slope)."""
    values = np.array(list(product(STIMULI, slopes)))
    chances = rule.weibull_db(STIMULI[:, None], values[:, 0], values[:, 1], GUESS, LAPSE)
    state, asked = rule.QuestPlus.start(chances), []
    for answer in answers:
        place = state.next_stimulus()
        asked.append(int(STIMULI[place]))
        state = state.told(place, answer == "C")
    return asked, state.posterior, values


EXAMPLE_1 = "CCCCIICCCCCCCCICCICCICCCCCCCCCCC"
IMPLEMENTATION = "CICCCCCCCCCCCICCICCCICCCCICCCCCCCCCCCICCIICCCCICICCCICCCCCCCCCCC"


def test_example_1_asks_for_the_published_stimuli() -> None:
    """Example 1: threshold unknown, slope 3.5; every one of the 32 stimuli is the printed one."""
    published = "18 22 25 28 30 22 13 15 16 18 19 20 21 22 23 19 20 20 18 18 19 17 17 18 18 18"
    published += " 19 19 19 19 19 19"
    assert play((3.5,), EXAMPLE_1)[0] == [-int(level) for level in published.split()]


def test_example_1_ends_at_the_published_threshold() -> None:
    """Example 1: the mode is printed, -20; mean and deviation computed from the same formulas."""
    _, posterior, values = play((3.5,), EXAMPLE_1)
    mean = posterior @ values[:, 0]
    assert values[posterior.argmax(), 0] == -20
    assert np.isclose(mean, -20.39360, atol=1e-5)
    assert np.isclose(np.sqrt(posterior @ (values[:, 0] - mean) ** 2), 1.38933, atol=1e-5)


def test_the_implementation_example_asks_for_the_published_stimuli() -> None:
    """Section "Implementation": slope unknown too; first 20 stimuli, and the mode (-20, 3)."""
    published = "18 22 12 13 15 16 17 18 19 21 24 25 26 27 21 22 23 20 20 20"
    asked, posterior, values = play((2, 3, 4, 5), IMPLEMENTATION)
    assert asked[:20] == [-int(level) for level in published.split()]
    assert values[posterior.argmax()].tolist() == [-20, 3]
