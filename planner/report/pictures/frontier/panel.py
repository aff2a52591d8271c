"""The panel that the frontier is drawn in: what is shown of the two knobs, and on how much room."""

from dataclasses import dataclass

from planner.domain.knob import Knob

ROOM = (475.0, 335.0)
"""Width and height in points."""


@dataclass(frozen=True, slots=True)
class Panel:
    """Two knobs with the values from which to which they are shown."""

    x: Knob
    y: Knob
    x_shown: tuple[float, float]
    y_shown: tuple[float, float]

    @property
    def scale(self) -> tuple[float, float]:
        """Points of one unit across and up."""
        across, up = (high - low for low, high in (self.x_shown, self.y_shown))
        return ROOM[0] / across, ROOM[1] / up

    def share(self, x: float, y: float) -> tuple[float, float]:
        """How far across and up a place stands, as shares of the panel."""
        (left, right), (low, high) = self.x_shown, self.y_shown
        return (x - left) / (right - left), (y - low) / (high - low)
