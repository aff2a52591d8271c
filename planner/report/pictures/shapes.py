"""The marks of the pictures: every way of ending has a shape of its own, so none needs a colour."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.report.pictures.endings import Ending
from planner.report.pictures.inks import CURVE, FAILURE, INK


@dataclass(frozen=True, slots=True)
class Shape:
    """How one kind of mark looks."""

    marker: str
    fill: str
    outline: str
    points: float
    """Diameter."""


RUNS: Mapping[Ending, Shape] = {
    Ending.PASSED: Shape("o", "white", CURVE, 6.8),
    Ending.SHORT: Shape("o", "white", CURVE, 3.6),
    Ending.ERRORS: Shape("D", FAILURE, INK, 5.2),
    Ending.WRONG: Shape("P", FAILURE, INK, 6.8),
    Ending.CRASH: Shape("X", FAILURE, INK, 7.2),
    Ending.POWER_OFF: Shape("_", INK, INK, 7.0),
    Ending.NO_START: Shape("v", FAILURE, INK, 6.6),
}
"""Runs, by how they ended."""
