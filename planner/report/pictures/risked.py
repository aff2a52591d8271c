"""Runs above an everyday ceiling: no picture keeps quiet about them."""

from dataclasses import dataclass

from planner.domain.knob import Value
from planner.gate import above_everyday
from planner.history import History
from planner.report.pictures.words import short
from planner.report.text import phrases

_NAME_WIDTH = 24


@dataclass(frozen=True, slots=True)
class Risked:
    """How many runs, and above the ceilings of which knobs and derived values."""

    runs: int
    names: tuple[str, ...]

    @property
    def words(self) -> list[str]:
        """The warning as one phrase, or none."""
        if not self.runs:
            return []
        runs = phrases.counted(self.runs, "run")
        names = ", ".join(short(name, _NAME_WIDTH) for name in self.names)
        return [f"{runs} AT YOUR OWN RISK, above the everyday ceiling of {names}"]


def risked_runs(history: History) -> Risked:
    """The runs that count, whatever asked for them."""
    known: dict[tuple[tuple[str, Value], ...], tuple[str, ...]] = {}
    names: dict[str, None] = {}
    runs = 0
    for run in history.evidence:
        at = tuple(run.ran.items())
        if at not in known:
            known[at] = above_everyday(history.definition, run.ran)
            names.update(dict.fromkeys(known[at]))
        runs += bool(known[at])
    return Risked(runs, tuple(names))
