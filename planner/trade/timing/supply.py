"""The supply voltage that the standard works at, and the most that it rates parts for.

An absolute maximum is a stress rating: past it a part may be damaged for good, and up to it nothing
is promised, neither that it works nor how long it lasts. Neither figure is a ceiling; those are the
person's, from what the maker of the part states.

Source: JESD79-4, operating conditions and absolute maximum ratings, as the data sheet of the
module TS1GSH72V1H gives them on p. 5. DDR5 is left out for want of a source.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.memory import Standard


@dataclass(frozen=True, slots=True)
class Supply:
    """Limits of VDD, in V."""

    least: float
    most: float
    """It works from `least` to this."""
    absolute: float
    """The absolute maximum rating."""


SUPPLIES: Mapping[Standard, Supply] = {Standard.DDR4: Supply(1.14, 1.26, 1.5)}
"""By standard, as far as a source is known."""
