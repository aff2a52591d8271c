"""A guided session without a terminal: lines typed at set times, all that is said kept."""

from collections.abc import Callable
from dataclasses import dataclass

from planner import Study
from planner.cli.guided.desk import Desk
from planner.cli.guided.session import Session


@dataclass(frozen=True)
class Quick:
    """A line typed so many seconds after the prompt came up; others take a minute."""

    line: str
    seconds: float = 0.5


Typed = str | Quick | Callable[[], object]
"""A line, or something that happens elsewhere while the prompt waits."""


@dataclass(frozen=True)
class Held:
    """What came of a session."""

    said: str
    """Prompts and typed lines included, as they would stand on the screen."""
    code: int
    left: int
    """How many lines were never asked for."""

    @property
    def flat(self) -> str:
        """The same on one line, however it was wrapped."""
        return " ".join(self.said.split())


def held(
    study: Study,
    *typed: Typed,
    width: int = 80,
    person: bool = True,
    suffix: str = "",
    at_work: Callable[[], int | None] = lambda: None,
) -> Held:
    """Hold a session in which these lines are typed; after them the input ends."""
    said: list[str] = []
    left = list(typed)
    clock = [0.0]

    def ask(prompt: str) -> str:
        while left:
            next_one = left.pop(0)
            if callable(next_one):
                next_one()
                continue
            quick = next_one if isinstance(next_one, Quick) else Quick(next_one, 60.0)
            clock[0] += quick.seconds
            said.append(f"{prompt}{quick.line}")
            return quick.line
        said.append(prompt)
        raise EOFError

    desk = Desk(
        say=said.append,
        show=lambda text: said.extend(["", text]),
        ask=ask,
        width=lambda: width,
        now=lambda: clock[0],
        draw=lambda: "pictures/edge.png",
        person=person,
        at_work=at_work,
        suffix=suffix,
    )
    code = Session(study, desk).run()
    return Held("\n".join(said), code, len(left))
