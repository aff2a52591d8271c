"""What failed a run, and which single run would tell best."""

from dataclasses import dataclass

import numpy as np

from planner.domain.knob import Setting
from planner.errors import RecordError
from planner.models.hazard import Array
from planner.peak.search import PeakSearch

STRAY = ""
"""Stands for a cause that the setting has no part in."""


@dataclass(frozen=True, slots=True)
class Blame:
    """The share of each cause in a failed run."""

    run: int
    shares: dict[str, float]
    """By knob, the likeliest first; `STRAY` for a crash that the setting did not cause."""
    groups: dict[str, float]
    """The same by group."""
    telling: Setting | None
    """The setting of the single run that would best tell the causes apart; None: no run would."""
    bits: float
    """What that run would tell, in bits."""


def blame_of(search: PeakSearch, number: int) -> Blame:
    """The blame for one run.

    Raises:
        RecordError: no such run, or it did not fail.
    """
    posterior = search.posterior
    numbers = [run.number for run in posterior.evidence.runs]
    run = search.history.by_number.get(number)
    if run is None:
        raise RecordError(f"run {number}: there is none")
    if number not in numbers or not run.outcome.failed:
        raise RecordError(f"run {number} ended as {run.outcome}: expected one that failed")
    place = numbers.index(number)
    causes = posterior.causes(place)
    share = causes.mean(axis=0)
    names = [*posterior.layout.names, STRAY]
    order = np.argsort(-share, kind="stable")
    group_of = {risk.knob.name: risk.knob.group for risk in posterior.layout.risks}
    groups: dict[str, float] = {}
    for i in order:
        group = group_of.get(names[i], STRAY)
        groups[group] = groups.get(group, 0.0) + float(share[i])
    telling, bits = _telling(search, run.ran, causes)
    return Blame(
        number,
        {names[i]: float(share[i]) for i in order},
        dict(sorted(groups.items(), key=lambda item: -item[1])),
        telling,
        bits,
    )


def _telling(search: PeakSearch, ran: Setting, causes: Array) -> tuple[Setting | None, float]:
    """The run that tells most about the cause: some knobs as they were, the others at stock."""
    offered = _partial(search, ran)
    if not offered:
        return None, 0.0
    holds = search.posterior.chances(offered)  # (n, m)
    share = causes.mean(axis=0)
    given = (causes.T @ holds) / np.maximum(causes.sum(axis=0)[:, None], 1e-12)  # (k + 1, m)
    overall = share @ given
    told = _entropy(overall) - share @ _entropy(given)
    best = int(np.argmax(np.round(told, 9)))
    return (offered[best], float(told[best])) if told[best] > 0.01 else (None, 0.0)


def _partial(search: PeakSearch, ran: Setting) -> list[Setting]:
    """The failed setting with one knob or one group taken back to stock, or alone moved."""
    knobs = search.history.definition.knobs
    stock = search.base
    moved = [n for n in knobs if ran.get(n) != stock[n]]
    supports = {n for n in moved if knobs[n].supports}
    names = [{n} for n in moved if n not in supports]
    groups = dict.fromkeys(knobs[n].group for n in moved)
    names += [{n for n in moved if knobs[n].group == group} for group in groups]
    found = []
    for chosen in names:
        alone = {n: ran[n] if n in chosen or n in supports else stock[n] for n in knobs}
        without = {n: stock[n] if n in chosen else ran[n] for n in knobs}
        found += [s for s in (alone, without) if search.gate.permits(s)]
    return found


def _entropy(chance: Array) -> Array:
    """Of a yes or no, in bits."""
    p = np.clip(chance, 1e-12, 1 - 1e-12)
    return np.asarray(-p * np.log2(p) - (1 - p) * np.log2(1 - p))
