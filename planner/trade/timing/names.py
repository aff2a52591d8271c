"""The timings by name: what each one is, and whether it is a time or a plain count of clocks.

A timing that the cells or the chip's analogue parts need is a time: at a higher data rate it takes
more clocks. What the bus needs (a burst, a turnaround, a command's slots) is a count of clocks
whatever a clock lasts. Times that the standard gives a floor in clocks too (tCCD_L: 5 ns, at least
5 clocks) count as times. Source: the columns "ns" and "nCK" of JESD79-4 and JESD79-5 as the SPD
layouts repeat them; turnarounds and command rate: common practice, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Timing:
    """One timing of the standards."""

    name: str
    what: str
    """What passes in it, to stand after the name."""
    is_time: bool
    """Whether it is a time; else a plain count of clocks."""
    is_maximum: bool = False
    """Whether it must not be exceeded; all others must be kept at least."""
    spellings: tuple[str, ...] = ()
    """How else it is written; case, `_` and `-` never matter."""


def _times(*rows: tuple[str, str, tuple[str, ...]]) -> tuple[Timing, ...]:
    return tuple(Timing(name, what, True, spellings=others) for name, what, others in rows)


def _counts(*rows: tuple[str, str, tuple[str, ...]]) -> tuple[Timing, ...]:
    return tuple(Timing(name, what, False, spellings=others) for name, what, others in rows)


_ALL = (
    *_times(
        ("tCL", "read command to first data", ("CL", "tAA", "tCAS", "CAS")),
        ("tRCD", "activate to read or write", ("tRCDRD", "tRCDWR", "RCD")),
        ("tRP", "precharge to activate", ("tRPpb", "RP")),
        ("tRAS", "activate to precharge", ("RAS",)),
        ("tRC", "activate to activate in one bank", ("RC",)),
        ("tCWL", "write command to its data", ("CWL", "tWCL", "WL")),
        ("tWR", "last write data to precharge", ("WR",)),
        ("tRTP", "read to precharge", ("RTP",)),
        ("tWTR_S", "last write data to read in another bank group", ("tCCD_S_WTR",)),
        ("tWTR_L", "last write data to read in the same bank group", ("tCCD_L_WTR", "tWTR")),
        ("tRRD_S", "activate to activate in another bank group", ()),
        ("tRRD_L", "activate to activate in the same bank group", ("tRRD",)),
        ("tFAW", "window that holds four activates", ("FAW",)),
        ("tCCD_L", "read to read in the same bank group", ("tRDRD_SCL",)),
        ("tCCD_L_WR", "write to write in the same bank group", ("tWRWR_SCL",)),
        ("tCCD_L_WR2", "the same without a read of what is overwritten", ()),
        ("tRFC", "refresh to the next command", ("tRFC1", "tRFCab", "RFC")),
        ("tRFC2", "the same in finer refresh", ()),
        ("tRFC4", "the same in the finest refresh", ()),
        ("tRFCsb", "the same for one bank of each group", ("tRFCpb",)),
        ("tXS", "self refresh to the first command", ()),
        ("tXP", "power down to the first command", ()),
        ("tCKE", "shortest power down", ()),
    ),
    Timing("tREFI", "mean time from refresh to refresh", True, True, ("tREF", "REFI")),
    *_counts(
        ("tCCD_S", "read to read in another bank group: one burst", ("tCCD",)),
        ("tCR", "clocks that one command takes", ("CR", "command_rate", "CMD")),
        ("tRTW", "read to write", ("tRDWR", "tRTWR")),
        ("tWRRD", "write to read", ()),
        ("tRDRD_SC", "read to read in one rank", ("tRDRD",)),
        ("tRDRD_SD", "read to read in another rank", ()),
        ("tRDRD_DD", "read to read on another module", ()),
        ("tWRWR_SC", "write to write in one rank", ("tWRWR",)),
        ("tWRWR_SD", "write to write in another rank", ()),
        ("tWRWR_DD", "write to write on another module", ()),
        ("tPPD", "precharge to precharge", ()),
        ("tMRD", "mode command to mode command", ()),
        ("tDLLK", "locking of the delay loop", ()),
    ),
)
TIMINGS: Mapping[str, Timing] = {timing.name: timing for timing in _ALL}
"""By name; in the order in which people tell them."""


def _plain(name: str) -> str:
    return name.replace("_", "").replace("-", "").casefold()


_COUNTED = ("commandrate", "turnaround")
"""What the names of plain counts say."""
_SPELLED = {_plain(name): t for t in _ALL for name in (t.name, *t.spellings)}


def timing_named(name: str) -> Timing | None:
    """The timing that is written so, in any case and with or without `_`; None: no such one."""
    return _SPELLED.get(_plain(name))


def stays_in_clocks(name: str) -> bool:
    """Whether a knob that is told in clocks is a plain count of them, whatever the data rate.

    Most timings are times, so a name that is no timing known here counts as one, unless it says
    that it is a turnaround or a command's rate.
    """
    timing = timing_named(name)
    if timing is None:
        return any(word in _plain(name) for word in _COUNTED)
    return not timing.is_time
