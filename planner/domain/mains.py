"""The wall socket that the bench hangs on."""

from dataclasses import dataclass
from enum import StrEnum


class Code(StrEnum):
    """Whose rule holds for loads that last."""

    NEC = "nec"
    """NFPA 70, the US National Electrical Code: 80 % of the rating for a continuous load."""
    OTHER = "other"
    """No such rule is cited; the same share is kept free as a caution."""


@dataclass(frozen=True, slots=True)
class Mains:
    """The `[mains]` table: a branch circuit, what else hangs on it, and the bench's supply.

    Raises:
        ValueError: a value that cannot be.
    """

    volts: float
    amps: float
    """Rating of the circuit's breaker or fuse, the smaller where there are both."""
    other_watts: float = 0.0
    """What else draws from the circuit at the same time, at the wall."""
    power_factor: float = 1.0
    """True over apparent power of the bench's supply."""
    efficiency: float | None = None
    """Direct current over wall power of the supply, its maker's figure; None: not told."""
    code: Code = Code.OTHER

    def __post_init__(self) -> None:
        for name, low, high in (
            ("volts", 50, 500),
            ("amps", 0.1, 200),
            ("other_watts", 0, 100_000),
            ("power_factor", 0.5, 1),
            ("efficiency", 0.3, 1),
        ):
            value = getattr(self, name)
            if value is not None and not low <= value <= high:
                raise ValueError(f"{name} = {value:g}: expected {low:g} to {high:g}")
