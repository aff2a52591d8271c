"""Ceilings: how far up proposals may go, and from where on it is the person's own risk."""

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Ceilings:
    """Upper bounds in the unit of the value that they guard; each may be absent.

    Raises:
        ValueError: not in the order everyday <= own_risk <= hard_stop.
    """

    everyday: float | None = None
    """Proposals stay at or under it."""
    own_risk: float | None = None
    """After the person accepted the risk, proposals may rise to it; absent: no such region."""
    hard_stop: float | None = None
    """Nothing is ever proposed past it; absent: the highest ceiling given."""

    def __post_init__(self) -> None:
        given = [
            (name, value)
            for name in ("everyday", "own_risk", "hard_stop")
            if (value := getattr(self, name)) is not None
        ]
        for (lower, low), (upper, high) in pairwise(given):
            if low > high:
                raise ValueError(
                    f"{lower} = {low:g}: expected at most {upper} = {high:g}"
                    " (everyday <= own_risk <= hard_stop)"
                )

    @property
    def given(self) -> bool:
        """Whether any ceiling was filled in."""
        return not (self.everyday is None and self.own_risk is None and self.hard_stop is None)

    @property
    def last(self) -> float | None:
        """The value never to be passed: the hard stop, else the highest ceiling given."""
        if self.hard_stop is not None:
            return self.hard_stop
        return self.own_risk if self.own_risk is not None else self.everyday


NO_CEILINGS = Ceilings()
"""Nothing filled in."""
