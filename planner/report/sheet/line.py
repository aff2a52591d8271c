"""One line of a complete setting: what was set, what really ran, what is at own risk."""

from dataclasses import dataclass

from planner.domain.knob import Value


@dataclass(frozen=True, slots=True)
class Mark:
    """That a value lies above its everyday ceiling; ceilings in the value's unit."""

    everyday: float | None
    """The ceiling that it passes; None: none is filled in, and it lies above stock."""
    last: float | None
    """The last ceiling given, where it passes that too; None: it does not, or none is given."""
    stops: bool
    """Whether the last one is a hard stop, and not merely the highest that was filled in."""


@dataclass(frozen=True, slots=True)
class Line:
    """One knob or derived value of a complete setting."""

    name: str
    unit: str
    as_set: Value | None
    """What was dialled in; None: it was no knob of the study then."""
    ran: Value | None
    """What really ran, as far as told."""
    made_of: str = ""
    """How a derived value is made of knobs, as `base x ratio`; empty: it is a knob."""
    where: str = ""
    """Where a knob is changed: in the firmware, or live."""
    set_mark: Mark | None = None
    """Where what was set lies above the everyday ceiling."""
    ran_mark: Mark | None = None
    """Where what really ran does."""
    removed: bool = False
    """Whether the study no longer has this knob, so that only what was set is known."""

    @property
    def at_own_risk(self) -> bool:
        """Whether anything of it lies above the everyday ceiling."""
        return self.set_mark is not None or self.ran_mark is not None
