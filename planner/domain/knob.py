"""A knob: one tunable quantity of the machine."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from planner.domain.ceilings import NO_CEILINGS, Ceilings
from planner.domain.grid import Grid
from planner.domain.quantity import format_number, is_clocks, is_voltage, with_unit

Value = float | str
"""A knob's value: a number in the knob's unit, or one of its choices."""
Setting = dict[str, Value]
"""One value for every knob."""


class Harder(StrEnum):
    """Which way leads towards failure."""

    UP = "up"
    DOWN = "down"
    CHOICE = "choice"
    """Neither: the values are unordered."""


class Where(StrEnum):
    """Where a knob is changed."""

    FIRMWARE = "firmware"
    """Takes a restart, and stays through one."""
    LIVE = "live"
    """Changed while the machine runs, and lost when it restarts."""


@dataclass(frozen=True)
class Knob:
    """One tunable quantity with its unit, range, step, stock value and ceilings.

    Raises:
        ValueError: stock outside the range or off its steps, or ceilings that leave nothing.
    """

    name: str
    stock: Value
    grid: Grid | None = None
    """The range of an ordered knob; None for a choice."""
    choices: tuple[Value, ...] = ()
    """The values of a choice, in no order."""
    harder: Harder = Harder.UP
    unit: str = ""
    group: str = ""
    supports: tuple[str, ...] = ()
    """Knobs whose edges this one moves (a voltage supports a clock)."""
    expected: tuple[float, float] | None = None
    """Where the edge probably lies, in the knob's unit."""
    where: Where = Where.FIRMWARE
    change_minutes: float = 0.3
    """Minutes to dial in one changed value, restart not counted."""
    each: int = 1
    """How many like units (cores) carry their own value of it; 1 in a definition that was read."""
    family: str = ""
    """What the knobs of all like units are called together; empty: it has no like."""
    ceilings: Ceilings = NO_CEILINGS
    frozen: bool = False
    """Whether no proposal of a search over many knobs turns it."""
    cools: bool = False
    """Whether it sets what cools the machine, in °C, so that a lower value is colder."""

    def __post_init__(self) -> None:
        if not self.allows(self.stock):
            raise ValueError(f"stock = {self.show(self.stock)}: expected {self.describe_values()}")
        everyday = self.ceilings.everyday
        numbers = [v for v in self.values if not isinstance(v, str)]
        if everyday is not None and (not numbers or everyday < min(numbers)):
            raise ValueError(
                f"everyday = {everyday:g}: leaves no value to propose, expected"
                f" {self.describe_values()}"
            )
        if self.cools and (self.grid is None or self.unit not in ("C", "\N{DEGREE SIGN}C")):
            raise ValueError("cools = true: expected a knob with a range and unit = 'C'")
        if self.expected and not self.expected[0] <= self.expected[1]:
            raise ValueError(f"expected = {list(self.expected)}: expected [lower, upper]")

    @cached_property
    def values(self) -> tuple[Value, ...]:
        """All values; of an ordered knob from the easiest to the hardest."""
        if self.grid is None:
            return self.choices
        upwards = self.grid.values()
        return upwards[::-1] if self.harder is Harder.DOWN else upwards

    @cached_property
    def lifts_voltage(self) -> bool:
        """Whether a rise is a rise of voltage: measured in volts, or supporting other knobs."""
        supports = bool(self.supports) and self.harder is not Harder.CHOICE and not self.cools
        return is_voltage(self.unit) or supports

    @cached_property
    def is_timing(self) -> bool:
        """Whether it counts clocks, and the fewer the harder."""
        return self.harder is Harder.DOWN and is_clocks(self.unit)

    @cached_property
    def whole(self) -> bool:
        """Whether it counts whole clocks, so that a value between is a slip."""
        grid = self.grid
        return grid is not None and is_clocks(self.unit) and (grid.low % 1, grid.step % 1) == (0, 0)

    def allows(self, value: Value) -> bool:
        """Whether the value is one that the knob can be set to, ceilings not considered."""
        if self.grid is None:
            return value in self.choices
        return not isinstance(value, str) and self.grid.index(value) is not None

    def choice(self, given: object) -> Value | None:
        """The choice meant by a value or its text; None where it is none."""
        return next((v for v in self.choices if v == given or self.show(v) == given), None) or next(
            (v for v in self.choices if not isinstance(v, str) and format_number(v) == given), None
        )

    def hardness(self, value: float) -> float:
        """Steps from the easiest value of the range towards failure; off-grid values between."""
        assert self.grid is not None, self.name
        if self.harder is Harder.DOWN:
            return (self.grid.high - value) / self.grid.step
        return (value - self.grid.low) / self.grid.step

    def at_hardness(self, steps: float) -> float:
        """The value that lies `steps` from the easiest one, on the grid or between."""
        assert self.grid is not None, self.name
        if self.harder is Harder.DOWN:
            return self.grid.high - steps * self.grid.step
        return self.grid.low + steps * self.grid.step

    def show(self, value: Value) -> str:
        """The value with its unit."""
        return with_unit(value, self.unit)

    def show_at(self, steps: float) -> str:
        """The value that lies `steps` from the easiest one, to a tenth of a step, with its unit."""
        assert self.grid is not None, self.name
        tenth = self.grid.step / 10
        return self.show(round(self.at_hardness(steps) / tenth) * tenth)

    def show_between(self, low: float, high: float) -> str:
        """The values at two hardnesses, in steps, the smaller one first: `5100 and 5150 MHz`."""
        ends = sorted((low, high), key=self.at_hardness)
        return " and ".join(self.show_at(end) for end in ends)

    def describe_values(self) -> str:
        """What can be set, in words."""
        if self.grid is None:
            return "one of " + ", ".join(self.show(v) for v in self.choices)
        low, high, step = (self.show(v) for v in (self.grid.low, self.grid.high, self.grid.step))
        return f"{low} to {high} in steps of {step}"
