"""The sentences of the edge picture: its verdict, and the conditions that it holds under."""

from planner.domain.quantity import format_number
from planner.report.edge_data import EdgePicture
from planner.report.text import phrases
from planner.report.text.layout import shortened

_NAMED_OTHERS = 4
"""So many other knobs are named with their values; more would be a table."""
_NAME_WIDTH = 40
"""Characters of a name beyond which it is cut."""


def verdict(picture: EdgePicture) -> str:
    """What the runs say, in one sentence; it stands as the picture's title."""
    knob, name = picture.knob, short(picture.knob.name)
    chance = phrases.chance(picture.recommendation.pass_probability)
    if picture.speaking == 0:
        return f"No run speaks of {name} yet: this is what was expected before the first one"
    if picture.best is None:
        easiest = knob.show(picture.recommendation.settings[knob.name])
        return f"No permitted {name} is likely to hold: even {easiest} passes with {chance}"
    risk = ", AT YOUR OWN RISK" if picture.recommendation.at_own_risk else ""
    value = f"{name} {knob.show(picture.best)}{risk}"
    if not picture.borne_out:
        lead = f"Best guess, nothing has held there yet: {value} passes"
    elif best_word(picture) == "keep":
        lead = f"Keep {value}: it passes"
    else:
        lead = f"Best so far: {value} passes"
    return f"{lead} with {chance}; {_where(picture)}"


def best_word(picture: EdgePicture) -> str:
    """How firmly the best value is meant: nothing is to be kept that was never seen to hold."""
    if not picture.borne_out:
        return "best guess"
    sound = picture.recommendation.pass_probability >= picture.target
    return "keep" if sound else "best so far"


def best_label(picture: EdgePicture) -> str:
    """The words beside the best value's mark."""
    assert picture.best is not None
    found = picture.recommendation
    low, high = (phrases.chance(end) for end in found.interval)
    return "\n".join(
        [
            f"{best_word(picture)} {picture.knob.show(picture.best)}",
            f"passes with {phrases.chance(found.pass_probability)}",
            f"({low} to {high})",
        ]
    )


def conditions(picture: EdgePicture) -> str:
    """Which study, what was run, how much of it, and where the other knobs stood."""
    minutes = format_number(picture.run_minutes)
    runs = "1 run" if picture.runs == 1 else f"{picture.runs} runs"
    spent = format_number(round(picture.minutes))
    told = f"{runs}, {spent} bench minutes"
    if picture.speaking != picture.runs:
        told += f"; {picture.speaking} of the runs speak of this edge"
    parts = [f"{short(picture.study)}: {short(picture.workload)}, {minutes} min a run", told]
    if 0 < len(picture.others) <= _NAMED_OTHERS:
        parts.append(", ".join(short(other) for other in picture.others))
    elif picture.others:
        parts.append(f"the {len(picture.others)} other knobs at the study's values")
    return ". ".join(parts) + "."


def short(name: str) -> str:
    """A name on one line, of a length that leaves room for the rest."""
    return shortened(name, _NAME_WIDTH)


def _where(picture: EdgePicture) -> str:
    knob = picture.knob
    assert knob.grid is not None, knob.name
    easiest, hardest = knob.show(knob.values[0]), knob.show(knob.values[-1])
    low, high = sorted(knob.hardness(end) for end in picture.interval)
    steps = knob.grid.size - 1
    if low > steps:
        return f"the edge lies beyond {hardest}, the end of the range"
    if high < 0:
        return f"the edge lies before {easiest}, the end of the range"
    first = knob.show_at(low) if low >= 0 else f"somewhere before {easiest}"
    last = knob.show_at(high) if high <= steps else f"somewhere beyond {hardest}"
    return f"the edge lies 9 to 1 between {first} and {last}"
