"""The sentences of the progress picture."""

from planner.domain.knob import Harder
from planner.domain.quantity import format_number
from planner.report.pictures.progress.data import Band, Progress
from planner.report.pictures.progress.runs import Lost
from planner.report.pictures.progress.scores import Scores
from planner.report.pictures.words import capital, edge_lies, sentences, short
from planner.report.text import phrases


def verdict(picture: Progress) -> str:
    """What the minutes brought, in one sentence; it stands as the picture's title."""
    knob, name = picture.knob, short(picture.knob.name)
    if not picture.runs:
        return f"No run yet: nothing is known of {name} but what was expected"
    lead = f"After {whole(picture.minutes)} bench minutes "
    if not picture.speaking:
        return f"{lead}no run speaks of {name} {picture.place}"
    now = picture.band[-1]
    where = edge_lies(knob, (now.low, now.high))
    if not picture.best:
        return f"{lead}no {name} has held {picture.place}; {where}"
    risk = ", AT YOUR OWN RISK" if picture.risked else ""
    held = f"{knob.show(picture.best[-1][1])}{picture.held_at}"
    way = "down" if knob.harder is Harder.DOWN else "up"
    return f"{lead}{name} has held {way} to {held}{risk}; {where}"


def conditions(picture: Progress) -> str:
    """Which study, how much of it, what failures cost, and how runs share marks."""
    parts = [*picture.study_line, *picture.at_risk.words]
    parts += lost_words(picture.lost)
    if picture.gathered is not None:
        share = format_number(float(f"{picture.gathered:.2g}"))
        parts.append(f"Runs of the same {share} minutes share a mark")
    if picture.every > 1:
        parts.append(f"The interval is told after every {picture.every} runs")
    if picture.unplaced:
        parts.append(f"{phrases.counted(picture.unplaced, 'run')} at no number left out")
    parts += elsewhere_words(picture.scores)
    return sentences([*parts, *picture.others])


def lost_words(lost: Lost) -> list[str]:
    """What failed runs cost, as one phrase or none."""
    if not lost.runs:
        return []
    restarts = f" and {phrases.counted(lost.restarts, 'restart')}" if lost.restarts else ""
    failed = phrases.counted(lost.runs, "failed run")
    return [f"{failed} cost {whole(lost.minutes)} minutes{restarts}"]


def elsewhere_words(scores: Scores | None) -> list[str]:
    """That scores of other workloads are not drawn, as one phrase or none."""
    if scores is None or not scores.elsewhere:
        return []
    return [f"{phrases.counted(scores.elsewhere, 'score')} of other workloads left out"]


def best_score(scores: Scores | None) -> str:
    """The best claimable score in words; empty where there is none."""
    if scores is None or not scores.best:
        return ""
    risk = ", AT YOUR OWN RISK" if scores.risked else ""
    return f"best claimable score {score_text(scores.best[-1][1])}{risk}"


def score_text(score: float) -> str:
    """A score to seven digits."""
    return format_number(float(f"{score:.7g}"))


def alternative(picture: Progress) -> str:
    """The picture in one paragraph."""
    knob, parts = picture.knob, [verdict(picture)]
    parts += [
        f"After {whole(band.minutes)} minutes {edge_lies(knob, (band.low, band.high))}"
        for band in _quarters(picture)
    ]
    parts += [f"At {whole(told.minutes)} minutes: {told.words}" for told in picture.told]
    if score := best_score(picture.scores):
        parts.append(capital(score))
    if picture.aside:
        runs = phrases.counted(picture.aside, "run")
        parts.append(f"{runs} beside other values of the other knobs, or of another workload")
    return f"{sentences(parts)} {conditions(picture)}"


def whole(minutes: float) -> str:
    """Minutes without a fraction."""
    return format_number(round(minutes))


def _quarters(picture: Progress) -> list[Band]:
    """The interval a quarter, half and three quarters into a longer evening."""
    if len(picture.band) < 5:
        return []
    times = (share * picture.minutes for share in (0.25, 0.5, 0.75))
    found = [[b for b in picture.band if b.minutes <= time][-1] for time in times]
    return list(dict.fromkeys(found))
