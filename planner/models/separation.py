"""Whether passes and failures overlap: without overlap no width can be read from them.

A maximum-likelihood slope exists only where the two groups overlap (Albert and Anderson 1984,
Silvapulle 1981; from memory), and a fit's own flag of convergence does not tell.
"""

from collections.abc import Sequence
from enum import StrEnum


class Separation(StrEnum):
    """How passes and failures lie along a knob."""

    ONE_SIDED = "one-sided"
    """Only passes or only failures so far."""
    SEPARATED = "separated"
    """Every pass lies below every failure."""
    TOUCHING = "touching"
    """They share one value and are separated otherwise."""
    UNCLEAR = "width not estimable"
    """They interleave, but by too few runs to tell a width, or failures lie lower on average."""
    OVERLAPPING = "overlapping"
    """They interleave, at least two of each: a width can be estimated."""


def separation(passed: Sequence[float], failed: Sequence[float]) -> Separation:
    """How the hardness of passed runs lies to that of failed ones."""
    if not passed or not failed:
        return Separation.ONE_SIDED
    hardest_pass, easiest_failure = max(passed), min(failed)
    if hardest_pass < easiest_failure:
        return Separation.SEPARATED
    if hardest_pass == easiest_failure:
        return Separation.TOUCHING
    # A fitted slope has the sign of the difference of the means.
    if min(len(passed), len(failed)) < 2 or sum(failed) / len(failed) <= sum(passed) / len(passed):
        return Separation.UNCLEAR
    return Separation.OVERLAPPING
