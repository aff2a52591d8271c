"""Phrases that several pictures share; they stand in titles, and in the text that replaces them."""

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting
from planner.domain.quantity import format_number
from planner.history import History
from planner.report.text import phrases
from planner.report.text.layout import shortened

_NAMED_OTHERS = 4
"""So many other knobs are named with their values; more would be a table."""
_UPRIGHT = 26
"""Characters of a name that leave room beside them on an upright axis."""
_NAME_WIDTH = 40
"""Characters of a name beyond which it is cut."""


def short(name: str, width: int = _NAME_WIDTH) -> str:
    """A name on one line, of a length that leaves room for the rest."""
    return shortened(name, width)


def upright_label(knob: Knob, harder: str) -> str:
    """What stands beside an upright axis: on two lines where it is long."""
    name = with_unit_of(knob)
    return f"{name}{', ' if len(name) < _UPRIGHT else chr(10)}{harder}"


def with_unit_of(knob: Knob) -> str:
    """The knob's name as an axis bears it."""
    return f"{short(knob.name)} ({short(knob.unit)})" if knob.unit else short(knob.name)


def study_line(history: History) -> list[str]:
    """Which study, what was run, how much of it: the sentences under every title."""
    definition = history.definition
    workload = definition.workload
    return [
        f"{short(definition.goal.name)}: {short(workload.name)},"
        f" {format_number(workload.minutes)} min a run",
        f"{phrases.counted(len(history.evidence), 'run')},"
        f" {format_number(round(history.minutes_spent))} bench minutes",
    ]


def others_at(definition: Definition, base: Setting, *shown: str) -> list[str]:
    """Where the knobs stood that the picture does not show, as one phrase or none."""
    others = [(n, k) for n, k in definition.knobs.items() if n not in shown]
    if not others:
        return []
    if len(others) > _NAMED_OTHERS:
        return [f"The {len(others)} other knobs at the study's values"]
    return [", ".join(short(f"{name} {knob.show(base[name])}") for name, knob in others)]


def best_word(borne_out: bool, chance: float, target: float) -> str:
    """How firmly the best value is meant: nothing is to be kept that was never seen to hold."""
    if not borne_out:
        return "best guess"
    return "keep" if chance >= target else "best so far"


def edge_lies(knob: Knob, interval: tuple[float, float]) -> str:
    """Between which values the edge lies; `interval` in the knob's unit."""
    assert knob.grid is not None, knob.name
    easiest, hardest = knob.show(knob.values[0]), knob.show(knob.values[-1])
    low, high = sorted(knob.hardness(end) for end in interval)
    steps = knob.grid.size - 1
    if low > steps:
        return f"the edge lies beyond {hardest}, the end of the range"
    if high < 0:
        return f"the edge lies before {easiest}, the end of the range"
    first = knob.show_at(low) if low >= 0 else f"somewhere before {easiest}"
    last = knob.show_at(high) if high <= steps else f"somewhere beyond {hardest}"
    return f"the edge lies 9 to 1 between {first} and {last}"


def capital(words: str) -> str:
    """The words with a capital letter first; not for names, which are written as they are."""
    return words[:1].upper() + words[1:]


def sentences(parts: list[str]) -> str:
    """The phrases as sentences."""
    return ". ".join(parts) + "."
