"""What timings come to: waits until data, and the most data a second.

With tCL, tRCD and tRP in clocks of 2000 / r ns at r MT/s: the first data of an open row come after
tCL, of a closed bank after tRCD + tCL, where another row is open after tRP + tRCD + tCL. The most
data are r x w / 8000 GB/s over w bits, as if nothing but bursts were on the bus.

Source: JESD79-4 and JESD79-5 (which commands a read needs); the sums are arithmetic.
"""


def waits(clocks: dict[str, int]) -> dict[str, int]:
    """Clocks to the first data, for each case that the timings given tell of.

    Keys: `open row`, `closed bank`, `other row`.
    """
    cases = {
        "open row": ("tCL",),
        "closed bank": ("tRCD", "tCL"),
        "other row": ("tRP", "tRCD", "tCL"),
    }
    return {
        case: sum(clocks[name] for name in names)
        for case, names in cases.items()
        if clocks.keys() >= set(names)
    }


def peak_gigabytes(rate: float, bits: int = 64) -> float:
    """The most GB/s (10^9 bytes) of a channel `bits` wide at `rate` MT/s.

    Raises:
        ValueError: a rate or a width that is not positive.
    """
    if rate <= 0 or bits <= 0:
        raise ValueError(f"{rate:g} MT/s over {bits} bits: expected both above 0")
    return rate * bits / 8000
