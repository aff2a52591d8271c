"""How far a study is from the scores that it is to beat, and what would close the gap."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.domain.run import Run
from planner.history import History
from planner.models.scores.answering import UNKNOWN, Answering, Ways
from planner.models.scores.closing import KnobGap, PartGap, knob_gaps, part_gaps
from planner.models.scores.composite import Composite, composite_of
from planner.models.scores.response import response_at
from planner.models.scores.scored import Drift, Scored, score_of, scored_runs
from planner.trade.scores.combined import pulls
from planner.trade.scores.gain import chance_to_reach
from planner.trade.scores.spread import Sample, one_way

Beat = Sequence[tuple[str, float]]
"""Scores to beat, by name."""
_SELDOM = 0.05
"""A score that one more run reaches more often by luck alone lies within the noise."""


@dataclass(frozen=True, slots=True)
class Target:
    """One score to beat."""

    name: str
    score: float
    gap: float
    """Points above the best claimable score; 0 or less: it is beaten."""
    luck: float | None
    """Chance that one more run at the best setting comes to it; None: the noise is not known."""
    parts: tuple[PartGap, ...]
    """Empty where it is beaten, or the rule behind the score is not known."""
    knobs: tuple[KnobGap, ...]

    @property
    def within_noise(self) -> bool:
        """Whether luck alone reaches it more often than one run in twenty."""
        return self.luck is not None and self.luck > _SELDOM


@dataclass(frozen=True)
class GapTable:
    """Where a workload's score stands, and each score to beat."""

    workload: str
    best: Run
    here: Sample
    """Repeats at the best run's setting."""
    noise: tuple[float, int] | None
    """Run-to-run standard deviation in points and its degrees of freedom; None: not known."""
    boots: float | None
    """Chance that boots differ so much by chance alone; None: too few boots or repeats tell."""
    drift: Drift | None
    """How repeats wandered off as the evening went on; None: they are not seen to."""
    composite: Composite | str
    """How the score is made, or why that is not known."""
    pulls: Mapping[str, float]
    """Share of each sub-score in a small change of the total; empty where it is not known."""
    response: Answering | str
    """What knobs do to the score, or why that is not known."""
    targets: tuple[Target, ...]
    minutes_left: float | None
    """Of the study; None: it has no bound."""


def gap_table(
    history: History, workload: str, beat: Beat, ways: Ways | None = None
) -> GapTable | None:
    """The gap to each score of `beat`, by name; None while nothing claimable was scored.

    `ways`: what the study's search says of settings, where it is after this workload.
    """
    scored = scored_runs(history, workload)
    best = scored.best
    here = None if best is None else scored.sample(best.ran)
    if best is None or here is None:
        return None
    noise, ways = scored.noise(), ways or UNKNOWN
    composite, parts = _composite(history, scored, best)
    response = ways.answering(best.ran) or response_at(history, scored, best.ran)
    left = history.minutes_left

    def target(name: str, score: float) -> Target:
        gap = score - score_of(best)
        rises: tuple[PartGap, ...] = ()
        steps: tuple[KnobGap, ...] = ()
        if gap > 0 and isinstance(composite, Composite) and parts:
            rises = part_gaps(composite, parts, score / here.mean)
        if gap > 0 and not isinstance(response, str):
            steps = knob_gaps(history, ways.holding, best.ran, response, score, left)
        luck = None if noise is None else chance_to_reach(score, here, *noise)
        return Target(name, score, gap, luck, rises, steps)

    shares: Mapping[str, float] = {}
    if isinstance(composite, Composite) and parts:
        shares = pulls(composite.rule, composite.weights, parts)
    return GapTable(
        workload=workload,
        best=best,
        here=here,
        noise=noise,
        boots=_between_boots(scored, best),
        drift=scored.drift(),
        composite=composite,
        pulls=shares,
        response=response,
        targets=tuple(target(name, score) for name, score in beat),
        minutes_left=left,
    )


def _between_boots(scored: Scored, best: Run) -> float | None:
    """By one-way analysis of variance of the repeats at the best setting, grouped by boot."""
    boots: dict[int, list[float]] = {}
    for run in scored.alike(best.ran):
        boots.setdefault(run.boot, []).append(score_of(run))
    found = one_way(list(boots.values()))
    return None if found is None else found.p_value


def _composite(
    history: History, scored: Scored, best: Run
) -> tuple[Composite | str, dict[str, float]]:
    """The rule, or why it is not known; and the mean sub-scores at the best setting."""
    try:
        composite = composite_of(history.definition.workloads[scored.workload], scored)
    except ValueError as error:
        return str(error), {}
    samples = {name: scored.sample(best.ran, name) for name in composite.weights}
    means = {name: sample.mean for name, sample in samples.items() if sample is not None}
    whole = len(means) == len(samples) and all(mean > 0 for mean in means.values())
    return composite, means if whole else {}
