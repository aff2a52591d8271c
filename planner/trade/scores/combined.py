"""Totals made of weighted sub-scores: the total, each part's pull on it, what would close a gap.

With weights w that add up to 1, f(T) = sum of w_i f(s_i), where f(s) is s for the arithmetic, ln s
for the geometric and 1 / s for the harmonic mean; a weighted sum is T = sum of w_i s_i with any
positive w. A part's **pull** is its elasticity, d ln T / d ln s_i = w_i s_i f'(s_i) / (T f'(T)):
by how many per cent the total rises when the part rises by one. Pulls add up to 1 under every one
of these rules, so they are shares of the total.

The harmonic mean is the one of rates over equal work (the slowest part pulls most), the geometric
the only one whose comparisons do not depend on the reference.

Sources: OECD/JRC, Handbook on Constructing Composite Indicators (2008), sec. on aggregation;
Fleming and Wallace, Commun. ACM 29 (1986) 218, from memory.
"""

import math
from collections.abc import Callable, Mapping

from planner.domain.combining import Combining

_F: Mapping[Combining, Callable[[float], float]] = {
    Combining.ARITHMETIC: lambda s: s,
    Combining.GEOMETRIC: math.log,
    Combining.HARMONIC: lambda s: 1 / s,
    Combining.SUM: lambda s: s,
}
_LOG_SLOPE: Mapping[Combining, Callable[[float], float]] = {  # s f'(s)
    Combining.ARITHMETIC: lambda s: s,
    Combining.GEOMETRIC: lambda s: 1.0,
    Combining.HARMONIC: lambda s: -1 / s,
    Combining.SUM: lambda s: s,
}
_ROUNDING = 0.005
"""A weight is written to two decimals; so far may each be off."""


def scaled_weights(rule: Combining, weights: Mapping[str, float]) -> dict[str, float]:
    """The weights as the rule wants them: adding up to 1, or as they are for a sum.

    They may be given as parts of 1 or of 100, each rounded to two decimals of the whole.

    Raises:
        ValueError: none, one that is not positive, or parts that add up to something else.
    """
    if not weights:
        raise ValueError("no weights, expected one for each sub-score")
    for name, weight in weights.items():
        if not 0 < weight < math.inf:
            raise ValueError(f"weight of {name} = {weight:g}: expected a positive number")
    if rule is Combining.SUM:
        return dict(weights)
    total = sum(weights.values())
    for whole in (1, 100):
        if abs(total / whole - 1) <= _ROUNDING * len(weights) + 1e-12:
            return {name: weight / total for name, weight in weights.items()}
    shown = " + ".join(f"{weight:g}" for weight in weights.values())
    raise ValueError(f"weights {shown} = {total:g}: expected to add up to 1, or to 100")


def total(rule: Combining, weights: Mapping[str, float], parts: Mapping[str, float]) -> float:
    """The total of the sub-scores, with weights from `scaled_weights`.

    Raises:
        ValueError: a sub-score that is missing or not positive.
    """
    return inverse(rule, sum(w * _F[rule](_part(parts, n)) for n, w in weights.items()))


def pulls(
    rule: Combining, weights: Mapping[str, float], parts: Mapping[str, float]
) -> dict[str, float]:
    """Each sub-score's share of a small change of the total; they add up to 1.

    Raises:
        ValueError: a sub-score that is missing or not positive.
    """
    slopes = {n: w * _LOG_SLOPE[rule](_part(parts, n)) for n, w in weights.items()}
    whole = sum(slopes.values())
    return {name: slope / whole for name, slope in slopes.items()}


def needed_part(
    rule: Combining,
    weights: Mapping[str, float],
    parts: Mapping[str, float],
    name: str,
    target: float,
) -> float | None:
    """What one sub-score must come to, the others unchanged, for the total to be `target`.

    None where it cannot do it alone, as a harmonic mean that the others hold down.

    Raises:
        ValueError: a sub-score that is missing or not positive, or a target that is not.
    """
    if not target > 0:
        raise ValueError(f"target = {target:g}: expected a positive number")
    others = sum(w * _F[rule](_part(parts, n)) for n, w in weights.items() if n != name)
    image = (_F[rule](target) - others) / weights[name]
    if rule is not Combining.GEOMETRIC and image <= 0:
        return None
    return inverse(rule, image)


def transformed(rule: Combining, value: float) -> float:
    """What the rule adds up of a value: f of the module's docstring."""
    return _F[rule](value)


def inverse(rule: Combining, image: float) -> float:
    """The value whose f is `image`."""
    if rule is Combining.GEOMETRIC:
        return math.exp(image)
    return 1 / image if rule is Combining.HARMONIC else image


def _part(parts: Mapping[str, float], name: str) -> float:
    value = parts.get(name)
    if value is None:
        raise ValueError(f"sub-score {name} is missing")
    if not 0 < value < math.inf:
        raise ValueError(f"sub-score {name} = {value:g}: expected a positive number")
    return value
