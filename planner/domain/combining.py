"""How a total is made of its sub-scores."""

from enum import StrEnum


class Combining(StrEnum):
    """A rule by which weighted sub-scores give a total."""

    ARITHMETIC = "arithmetic"
    """Weighted mean; the weights add up to 1."""
    GEOMETRIC = "geometric"
    """Weighted geometric mean."""
    HARMONIC = "harmonic"
    """Weighted harmonic mean."""
    SUM = "sum"
    """Weighted sum; the weights are factors, and add up to whatever they do."""
