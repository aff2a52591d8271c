"""Expected improvement of one normal prediction over the best score so far.

    EI = (m - best) Phi(z) + s phi(z),  z = (m - best) / s

with m and s the prediction's mean and standard deviation, in the unit of the score, and Phi and
phi the standard normal distribution and density. A larger score is better.

Source: Jones, Schonlau and Welch, J. Global Optim. 13 (1998) 455.
"""

import math


def expected_improvement(mean: float, sd: float, best: float) -> float:
    """Mean of max(0, score - best), in the unit of the score; never below 0.

    Raises:
        ValueError: a number that is not finite, or sd below 0.
    """
    if not (math.isfinite(mean) and math.isfinite(best) and 0 <= sd < math.inf):
        raise ValueError(
            f"mean = {mean}, sd = {sd}, best = {best}: expected finite numbers, sd 0 or more"
        )
    gain = mean - best
    if sd == 0:
        return max(0.0, gain)
    z = gain / sd
    # erfc, because 1 + erf loses all digits of a chance far below the best
    chance = math.erfc(-z / math.sqrt(2)) / 2
    density = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
    return max(0.0, gain * chance + sd * density)
