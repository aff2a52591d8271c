"""The study's pictures: each drawn when it is first asked for, once until the ledger grows."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from threading import Lock

from planner.errors import InputError
from planner.history import History
from planner.report.pictures.picture import Prepared, Wanted
from planner.report.pictures.table import PICTURES, picture_named, usual_for
from planner.searching import Searching


@dataclass(frozen=True, slots=True)
class Framed:
    """A picture as the page lists it."""

    name: str
    title: str
    alternative: str
    """For those who cannot see it."""


class Gallery:
    """Draws the pictures of the ledger as it is; any thread may ask."""

    def __init__(self, history: Callable[[], tuple[str, History]]) -> None:
        """`history`: the ledger's last entry, and all that is told."""
        self._history = history
        self._lock = Lock()  # drawing changes settings of the whole process for a while
        self._head = ""
        self._answers = Searching()
        self._prepared: dict[str, Prepared] = {}
        self._drawn: dict[str, bytes] = {}

    def listed(self) -> tuple[str, Sequence[Framed]]:
        """The ledger's last entry, and the pictures that its runs give; none is drawn yet.

        Raises:
            PlannerError: the ledger cannot be read.
        """
        with self._lock:
            self._look()
            told = self._prepared.items()
            return self._head, [Framed(name, p.title, p.alternative) for name, p in told]

    def svg(self, name: str) -> bytes | None:
        """A picture; None where the runs do not give it.

        Raises:
            PlannerError: the ledger cannot be read.
        """
        with self._lock:
            self._look()
            if name in self._prepared and name not in self._drawn:
                from planner.report.pictures.file import picture_bytes

                self._drawn[name] = picture_bytes(self._prepared[name], ".svg")
            return self._drawn.get(name)

    def _look(self) -> None:
        """Forget the pictures of an older ledger."""
        head, history = self._history()
        if head != self._head:
            self._prepared, self._drawn = _prepared(history, self._answers), {}
            self._head = head


def _prepared(history: History, answers: Searching) -> dict[str, Prepared]:
    """By name, that of the study's aim first."""
    wanted, found = Wanted(), {}
    first = usual_for(history.definition.goal.aim)
    for name in sorted(PICTURES, key=lambda name: name != first):
        picture = picture_named(name)
        try:
            if not picture.lacks(history, wanted):
                found[name] = picture.prepare(history, wanted, answers)
        except InputError:  # a definition under which this one cannot be drawn
            continue
    return found
