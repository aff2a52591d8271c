"""What every picture offers to those who draw it, list it or put it into words."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.history import History

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from planner.searching import Searching


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person asks of a picture beyond its name."""

    x: str = ""
    """Knob along the horizontal axis; empty: the picture's choice."""
    y: str = ""
    """Knob along the vertical axis; empty: the picture's choice."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A picture whose data are gathered; words are there without drawing it."""

    title: str
    """What it says, in one sentence."""
    alternative: str
    """One paragraph for those who cannot see it."""
    draw: Callable[[], "Figure"]
    """Draws it; loads matplotlib."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One kind of picture."""

    lacks: Callable[[History, Wanted], str]
    """Why there is nothing to draw of this study; empty: there is."""
    prepare: Callable[[History, Wanted, "Searching"], Prepared]
    """Gathers what is drawn where nothing lacks; pictures that share answers work them out once.

    Raises:
        InputError: a knob that the study does not have.
    """
