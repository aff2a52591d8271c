"""The sentences of the edge picture: its verdict, and the conditions that it holds under."""

from planner.report.pictures.edge.data import EdgePicture, Mark
from planner.report.pictures.words import best_word, capital, edge_lies, sentences, short
from planner.report.text import phrases


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
    elif _word(picture) == "keep":
        lead = f"Keep {value}: it passes"
    else:
        lead = f"Best so far: {value} passes"
    return f"{lead} with {chance}; {edge_lies(knob, picture.interval)}"


def best_label(picture: EdgePicture) -> str:
    """The words beside the best value's mark."""
    assert picture.best is not None
    found = picture.recommendation
    low, high = (phrases.chance(end) for end in found.interval)
    return "\n".join(
        [
            f"{_word(picture)} {picture.knob.show(picture.best)}",
            f"passes with {phrases.chance(found.pass_probability)}",
            f"({low} to {high})",
        ]
    )


def conditions(picture: EdgePicture) -> str:
    """Which study, what was run, how much of it, and where the other knobs stood."""
    study, told = picture.study_line
    if picture.speaking != picture.runs:
        told += f"; {picture.speaking} of the runs speak of this edge"
    return sentences([study, told, *picture.others])


def alternative(picture: EdgePicture) -> str:
    """The picture in one paragraph."""
    knob = picture.knob
    held = [mark for mark in picture.marks if mark.kind.held]
    failed = [mark for mark in picture.marks if not mark.kind.held]
    parts = [verdict(picture)]
    if held:
        parts.append(f"{_counted(held)} held, the hardest at {knob.show(held[-1].value)}")
    if failed:
        parts.append(f"{_counted(failed)} failed, the easiest at {knob.show(failed[0].value)}")
    parts += [
        f"{capital(bound.limit.value)}{f' of {bound.of}' if bound.of else ''}"
        f" {knob.show(bound.value)}"
        for bound in picture.bounds
    ]
    return f"{sentences(parts)} {conditions(picture)}"


def _word(picture: EdgePicture) -> str:
    chance = picture.recommendation.pass_probability
    return best_word(picture.borne_out, chance, picture.target)


def _counted(marks: list[Mark]) -> str:
    return phrases.counted(sum(mark.count for mark in marks), "run")
