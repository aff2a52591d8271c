"""The sentences of the frontier picture."""

from planner.domain.knob import Harder
from planner.domain.quantity import format_number
from planner.models.frontier.findings import FrontierPoint, Holding
from planner.report.pictures.ceilings import Limit
from planner.report.pictures.frontier.data import Asked, FrontierPicture, Keep
from planner.report.pictures.frontier.fences import Fence
from planner.report.pictures.words import best_word, capital, sentences, short
from planner.report.text import phrases
from planner.report.text.frontier import in_range

_STATIONS = 12
"""More than so many stations are put into words where runs are asked for alone."""
_RISK = "AT YOUR OWN RISK"


def verdict(picture: FrontierPicture) -> str:
    """What the runs say, in one sentence; it stands as the picture's title."""
    knob, along = short(picture.knob.name), short(picture.along.name)
    if not picture.runs:
        return f"No run yet: what was expected of {knob} along {along} beforehand"
    keep = picture.keep
    if keep is None:
        if any(point.holding is Holding.NONE_YET for point in picture.points):
            return f"No {knob} has held at any {along} yet"
        return f"No permitted {knob} is likely to hold at any permitted {along}"
    risk = f", {_RISK}" if keep.found.at_own_risk else ""
    value = f"{knob} {_point(picture, keep, along)}{risk}"
    word = _word(picture, keep)
    lead = {
        "best guess": f"Best guess, nothing has held there yet: {value}",
        "keep": f"Keep {value}",
        "best so far": f"Best so far: {value}",
    }[word]
    told = f"{lead}, which passes with {phrases.chance(keep.found.pass_probability)}"
    return "; ".join([told, *_span(picture)])


def conditions(picture: FrontierPicture) -> str:
    """Which study, what was run, how much of it, at which target, and what is not drawn."""
    parts = [*picture.study_line, *picture.risked.words]
    parts.append(f"At the edge {_percent(picture.target)} of runs pass")
    if picture.everyday is not None:
        known = picture.everyday
        within = _point(picture, known, short(picture.along.name))
        chance = phrases.chance(known.found.pass_probability)
        parts.append(f"Within everyday: {_word(picture, known)} {within} ({chance})")
    marks = picture.marks
    shared = [
        f"{every} values of {short(knob.name)}"
        for knob, every in zip((picture.along, picture.knob), marks.shared, strict=True)
        if every > 1
    ]
    if shared:
        parts.append(f"Runs at {' and '.join(shared)} share a mark")
    if any(one.mark.count > 1 and not one.numbered for one in picture.placed):
        parts.append("Numbers without room are left out")
    if marks.between:
        runs = phrases.counted(marks.between, "run")
        parts.append(f"{runs} between two values drawn at the nearest")
    if marks.unplaced:
        parts.append(f"{phrases.counted(marks.unplaced, 'run')} at no number left out")
    if picture.past_stop:
        parts.append(f"{phrases.counted(picture.past_stop, 'run')} past a hard stop not drawn")
    return sentences([*parts, *picture.others])


def side(picture: FrontierPicture) -> str:
    """On which side of the line runs hold."""
    where = "above" if picture.knob.harder is Harder.DOWN else "below"
    return f"runs hold {where} the line"


def keep_label(picture: FrontierPicture, keep: Keep) -> str:
    """The words beside the point to keep."""
    low, high = (phrases.chance(end) for end in keep.found.interval)
    lines = [f"{_word(picture, keep)} {_point(picture, keep)}"]
    lines.append(f"passes with {phrases.chance(keep.found.pass_probability)} ({low} to {high})")
    return "\n".join(lines + ([_RISK] if keep.found.at_own_risk else []))


def asked_label(asked: Asked) -> str:
    """What the mark of a proposal stands for."""
    return f"proposed: run {asked.number}{f', {_RISK}' if asked.at_own_risk else ''}"


def risk_label(picture: FrontierPicture) -> str:
    """What hatching stands for."""
    guards = picture.fences.guards
    more = " .." if len(guards) > 2 else ""
    return f"{_RISK}: above everyday {', '.join(short(name, 18) for name in guards[:2])}{more}"


def aside_label(picture: FrontierPicture) -> str:
    """What small pale marks stand for."""
    runs = phrases.counted(picture.marks.aside, "run")
    return f"small, pale: {runs} with other knobs or workload"


def fence_label(picture: FrontierPicture, fence: Fence, between: str) -> str:
    """A ceiling with its value; `between` parts the two."""
    derived = fence.of not in (picture.knob.name, picture.along.name)
    of = f"of {short(fence.of, 20)}{between}" if derived else ""
    if fence.limit is Limit.OWN_RISK:
        return f"{_RISK}{between}{of}to {fence.shown}"
    return f"{fence.limit.value}{between}{of}{fence.shown}"


def alternative(picture: FrontierPicture) -> str:
    """The picture in one paragraph, station by station."""
    parts = [verdict(picture)]
    stations = picture.points
    if len(stations) > _STATIONS:
        stations = tuple(point for point in stations if point.asked)
    parts += [_station(picture, point) for point in stations]
    if left := len(picture.points) - len(stations):
        parts.append(f"{phrases.counted(left, 'station')} of your own runs not told of here")
    parts.append(capital(side(picture)))
    parts += [
        f"{capital(asked_label(asked))}: {_at(picture, asked.value, asked.along)}"
        for asked in picture.asked
    ]
    parts += [
        f"{capital(fence.limit.value)} of {short(fence.of)} {fence.shown}"
        for fence in picture.fences.lines
    ]
    return f"{sentences(parts)} {conditions(picture)}"


def _station(picture: FrontierPicture, point: FrontierPoint) -> str:
    low, high = (in_range(picture.knob, end) for end in point.interval)
    edge = f"edge {low}" if low == high else f"edge {low} to {high}"
    risk = f", {_RISK}" if point.at_own_risk else ""
    told = [f"At {picture.along.show(point.along)}{risk}: {edge}"]
    if picture.runs:
        told.append(_kept(picture, point))
    told.append(phrases.counted(point.runs, "run"))
    return ", ".join(told if point.asked else [*told, "none asked for"])


def _kept(picture: FrontierPicture, point: FrontierPoint) -> str:
    if point.holding is Holding.NONE_YET:
        return "none has held yet"
    return point.holding.value if point.kept is None else f"to keep {picture.knob.show(point.kept)}"


def _span(picture: FrontierPicture) -> list[str]:
    """How the edge goes where everyday runs are asked for; nothing at a single station."""
    asked = [point for point in picture.points if point.asked and not point.at_own_risk]
    if len(asked) < 2:
        return []
    first, last = asked[0], asked[-1]
    risky = any(point.asked and point.at_own_risk for point in picture.points)
    where = "within everyday the" if risky else "the"
    told = f"{where} edge goes from {_edge(picture, first)} to {_edge(picture, last)}"
    hardness = picture.knob.hardness
    peak = max(asked, key=lambda point: (hardness(point.edge), -point.along))
    if hardness(peak.edge) >= max(hardness(end.edge) for end in (first, last)) + 1:
        word = "least" if picture.knob.harder is Harder.DOWN else "highest"
        told += f", {word} with {_edge(picture, peak)}"
    return [told]


def _edge(picture: FrontierPicture, point: FrontierPoint) -> str:
    return f"{in_range(picture.knob, point.edge)} at {picture.along.show(point.along)}"


def _point(picture: FrontierPicture, keep: Keep, named: str = "") -> str:
    return _at(picture, keep.value, keep.along, named)


def _at(picture: FrontierPicture, value: float, along: float, named: str = "") -> str:
    name = f"{named} " if named else ""
    return f"{picture.knob.show(value)} at {name}{picture.along.show(along)}"


def _word(picture: FrontierPicture, keep: Keep) -> str:
    return best_word(keep.borne_out, keep.found.pass_probability, picture.target)


def _percent(share: float) -> str:
    return f"{format_number(round(100 * share, 4))}%"
