"""Refresh: how long one takes, how often it is due, and the share of time that it costs.

A chip of d gigabits answers nothing for tRFC after a refresh, and one is due every tREFI on
average, more often when it is hot. The share of time lost is tRFC / tREFI.

Sources: DDR4 tRFC and tREFI by temperature: data sheet of the 4 Gb component MT40A256M16GE,
p. 354, after JESD79-4 (2 Gb: from memory). DDR5: JESD79-5 table 282 for 8 and 16 Gb, and SPD
contents of 16 Gb modules; larger chips are left out for want of a source. DDR5 tREFI is half of
DDR4's (JESD79-5).
"""

from collections.abc import Mapping

from planner.domain.memory import Standard

REFRESH_NS: Mapping[Standard, Mapping[int, Mapping[str, int]]] = {
    Standard.DDR4: {
        2: {"tRFC": 160},
        4: {"tRFC": 260, "tRFC2": 160, "tRFC4": 110},
        8: {"tRFC": 350, "tRFC2": 260, "tRFC4": 160},
        16: {"tRFC": 550, "tRFC2": 350, "tRFC4": 260},
    },
    Standard.DDR5: {
        8: {"tRFC": 195, "tRFCsb": 115},
        16: {"tRFC": 295, "tRFC2": 160, "tRFCsb": 130},
    },
}
"""Gigabits of one chip: the least ns of each kind of refresh."""

_INTERVAL_PS = {Standard.DDR4: 7_800_000, Standard.DDR5: 3_900_000}
_HALVED_ABOVE = (85.0, 95.0, 105.0)
"""Degrees C of the case, each of which halves the interval once it is passed."""
HOTTEST = 125.0
"""Degrees C; above it nothing is specified. Most modules are specified to 85 or 95 only."""


def refresh_interval_ps(standard: Standard, case: float = 25.0) -> int:
    """The longest tREFI that the standard allows at a case temperature in degrees C, in ps.

    Raises:
        ValueError: hotter than any grade is specified for.
    """
    if not case <= HOTTEST:
        raise ValueError(f"case = {case:g} C: expected at most {HOTTEST:g}")
    return _INTERVAL_PS[standard] >> sum(case > limit for limit in _HALVED_ABOVE)


def refresh_share(recovery: float, interval: float) -> float:
    """The share of time that goes into refresh; both in the same unit.

    Raises:
        ValueError: an interval that is not positive, or a negative recovery.
    """
    if interval <= 0 or recovery < 0:
        raise ValueError(
            f"tRFC = {recovery:g}, tREFI = {interval:g}: expected 0 or more, and more than 0"
        )
    return recovery / interval
