"""The sentences of the picture of a search over many knobs."""

from planner.report.pictures.progress.climb.data import Climb
from planner.report.pictures.progress.words import (
    best_score,
    elsewhere_words,
    lost_words,
    score_text,
    whole,
)
from planner.report.pictures.words import capital, sentences, short
from planner.report.text import phrases


def verdict(picture: Climb) -> str:
    """What the minutes brought, in one sentence; it stands as the picture's title."""
    if not picture.runs:
        return f"No run yet: nothing has {'scored' if picture.for_score else 'held'}"
    lead = f"After {whole(picture.minutes)} bench minutes"
    if not picture.for_score:
        return f"{lead} {picture.held} of {phrases.counted(picture.runs, 'run')} held"
    scores, best = picture.scores, picture.best
    if scores is None or best is None:
        return f"{lead} no score can be claimed yet"
    risk = ", AT YOUR OWN RISK" if scores.risked else ""
    at, first = scores.best[-1][0], scores.best[0][1]
    if len(scores.best) == 1:
        return f"{lead} the best score is the first one, {score_text(best)}{risk}"
    gain = f", {best / first - 1:.1%} above the first" if first > 0 else ""
    reached = f"{score_text(best)}{risk}{gain}, reached at {whole(at)} minutes"
    return f"{lead} the best score is {reached}"


def conditions(picture: Climb) -> str:
    """Which study, how much of it, what failures cost, how the stated chances came true."""
    parts = [*picture.study_line, *picture.at_risk.words, *lost_words(picture.lost)]
    if picture.stated:
        parts.append(
            f"Of {phrases.counted(picture.stated, 'run')} asked for {picture.passed} held; the"
            f" chances stated made {picture.expected:.1f} likely"
        )
    if picture.gathered:
        parts.append("Runs close to each other share a mark")
    return sentences([*parts, *elsewhere_words(picture.scores)])


def alternative(picture: Climb) -> str:
    """The picture in one paragraph."""
    parts = [verdict(picture)]
    steps = picture.scores.best if picture.scores else ()
    shown = [step for at, step in enumerate(steps) if at in (0, len(steps) // 2)]
    parts += [f"After {whole(at)} minutes the best was {score_text(s)}" for at, s in shown]
    parts += [f"At {whole(told.minutes)} minutes: {told.words}" for told in picture.told]
    if score := best_score(picture.scores):
        parts.append(capital(score))
    if (noise := noise_words(picture)) and picture.best:
        parts.append(f"{capital(noise)} of it")
    parts += [f"To beat: {short(name)} {score_text(score)}" for name, score in picture.beat]
    return f"{sentences(parts)} {conditions(picture)}"


def noise_words(picture: Climb) -> str:
    """How far runs of one setting lie apart; empty where nothing tells."""
    if picture.noise is None:
        return ""
    return f"runs of one setting lie within {2 * picture.noise:.1%}, 19 times in 20"
