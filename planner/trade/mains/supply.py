"""From the watts that parts draw to the watts at the wall, and back.

A supply of efficiency e takes D / e from the wall for D watts of direct current, and turns the rest
into heat. The efficiency depends on the load and is the maker's figure: none is assumed here.
"""


def wall_watts(direct: float, efficiency: float) -> float:
    """Watts at the wall for so many watts of direct current.

    Raises:
        ValueError: an efficiency that is not above 0 and at most 1.
    """
    return direct / _checked(efficiency)


def direct_watts(wall: float, efficiency: float) -> float:
    """Watts of direct current from so many at the wall.

    Raises:
        ValueError: an efficiency that is not above 0 and at most 1.
    """
    return wall * _checked(efficiency)


def _checked(efficiency: float) -> float:
    if not 0 < efficiency <= 1:
        raise ValueError(f"efficiency = {efficiency:g}: expected above 0 and at most 1")
    return efficiency
