"""Where a session is held: what it is typed at and printed on, the clock, and the pen."""

from collections.abc import Callable
from dataclasses import dataclass

from planner.report.text.layout import prose


@dataclass(frozen=True, slots=True)
class Desk:
    """All that a session needs of the world, the study aside."""

    say: Callable[[str], None]
    """Prints a text and ends its line."""
    show: Callable[[str], None]
    """Prints a screen after a blank line, its first line standing out where that is possible."""
    ask: Callable[[str], str]
    """The next line typed after a prompt; EOFError once there are no more."""
    width: Callable[[], int]
    """Columns, asked anew for every screen."""
    now: Callable[[], float]
    """A clock in s that never runs backward."""
    draw: Callable[[], str]
    """Draws the picture of the study; where it lies. Raises InputError."""
    person: bool
    """Whether a person types, whom it may happen to answer too fast; not where lines are piped."""
    at_work: Callable[[], int | None]
    """The run that a drive has begun; None: none is at work."""
    suffix: str = ""
    """What a command needs after it to mean this study."""

    def tell(self, text: str) -> None:
        """Print a sentence in lines that fit."""
        self.say("\n".join(prose(text, self.width())))
