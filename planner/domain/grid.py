"""The values that a knob can be set to: an evenly stepped range, exact in decimals."""

import math
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

MAX_VALUES = 20_000
"""More values than this in one range is taken for a slip of the pen."""


@dataclass(frozen=True)
class Grid:
    """`low`, `low + step`, ... `high`; values are rounded to the decimals they were given in.

    Raises:
        ValueError: bounds out of order, or a step that is not positive or does not divide them.
    """

    low: float
    high: float
    step: float

    def __post_init__(self) -> None:
        if self.step <= 0:
            raise ValueError(f"step = {self.step:g}: expected a positive number")
        if self.high < self.low:
            raise ValueError(f"high = {self.high:g}: expected at least low = {self.low:g}")
        if not math.isfinite((self.high - self.low) / self.step):
            raise ValueError(f"high = {self.high:g}: too far from low = {self.low:g}")
        span = Decimal(repr(self.high)) - Decimal(repr(self.low))
        if span / Decimal(repr(self.step)) >= MAX_VALUES:
            raise ValueError(f"step = {self.step:g}: expected at most {MAX_VALUES} values in range")
        if span % Decimal(repr(self.step)):
            raise ValueError(
                f"step = {self.step:g}: does not divide the range {self.low:g} to {self.high:g}"
                f" (expected a divisor of {span.normalize():f})"
            )

    @cached_property
    def size(self) -> int:
        """How many values there are."""
        return round((self.high - self.low) / self.step) + 1

    @cached_property
    def _decimals(self) -> int:
        exponents = (Decimal(repr(v)).as_tuple().exponent for v in (self.low, self.step))
        return max(0, *(-e for e in exponents if isinstance(e, int)))

    def value(self, index: int) -> float:
        """The value at `index`, counted from `low`."""
        return round(self.low + index * self.step, self._decimals)

    def values(self) -> tuple[float, ...]:
        """All values, upwards."""
        return tuple(self.value(i) for i in range(self.size))

    def index(self, value: float) -> int | None:
        """The index of `value`; None where it is off the grid or out of range."""
        steps = (value - self.low) / self.step
        if not math.isfinite(steps):  # also where the distance of a finite value overflows
            return None
        index = round(steps)
        on_grid = 0 <= index < self.size and abs(self.value(index) - value) <= 1e-6 * self.step
        return index if on_grid else None
