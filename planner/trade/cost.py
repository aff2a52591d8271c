"""The price of a rig, and the bracket that it falls into under ceilings that people set."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cost:
    """What a rig costs, as far as its prices are told."""

    total: float
    """Of the parts whose price is told."""
    unpriced: int
    """Parts whose price is not; with any of them the total is only the least that it can be."""
    bracket: str
    """The lowest bracket that the total fits; empty: none is given, or it is above all."""
    ceiling: float | None
    """The ceiling of that bracket."""
    above: str
    """The highest bracket, where the total is above it; empty: it is not."""


def cost_of(prices: Sequence[float | None], brackets: Mapping[str, float]) -> Cost | None:
    """Total and bracket; a total at a ceiling still fits. None where no price is told."""
    told = [price for price in prices if price is not None]
    if not told:
        return None
    total = round(sum(told), 9)
    rising = sorted(brackets.items(), key=lambda item: item[1])
    fits = next(((name, top) for name, top in rising if total <= top), None)
    return Cost(
        total=total,
        unpriced=len(prices) - len(told),
        bracket=fits[0] if fits else "",
        ceiling=fits[1] if fits else None,
        above="" if fits or not rising else rising[-1][0],
    )
