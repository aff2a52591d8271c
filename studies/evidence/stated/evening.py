"""An evening by the planner, with what it stated of edges and of the minutes to come on the way."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any

import edges
import outlook

import planner
from planner.rigs.evening.draw import Kind, evening_rig
from planner.rigs.evening.rig import EveningRig

LAST = 180.0
"""Bench minutes after which no run is started."""
USUAL = Kind()
EDGES_AT = (0.0, 60.0, 120.0, 180.0)
OUTLOOK_AT = (45.0, 90.0, 135.0)


@dataclass
class Evening:
    """What was stated along one evening, and what came of it."""

    seed: int
    edges: list[edges.Told] = field(default_factory=list)
    outlooks: list[outlook.Told] = field(default_factory=list)
    best: outlook.Best = field(default_factory=outlook.Best)
    closed: float | None = None
    """Minutes at which the planner would have closed for flat gains; None: it never would."""


def played(
    seed: int, kind: Kind = USUAL, only: Collection[str] = (), outlooks: bool = True
) -> Evening:
    """An evening; `only`: the groups that are turned at all."""
    rig = evening_rig(seed, kind)
    evening = Evening(seed)
    study = planner.Study.create(rig.definition, store="memory")
    edges_at, outlook_at = list(EDGES_AT), list(OUTLOOK_AT if outlooks else ())
    prior, causes = study.edges(), list[str]()
    evening.edges += edges.told(study, rig, edges_at.pop(0), prior)
    while rig.minutes < LAST:
        proposal = study.next(only=only)
        if proposal is None:
            if evening.closed is None and "flattened" in (study.closing() or ""):
                evening.closed = rig.minutes
            study.reopen()  # the evening goes on, to see what the rest of it still brings
            proposal = study.next(only=only)
        if proposal is None:
            break
        _run(rig, study, proposal, evening.best)
        causes.append(rig.cause)
        while edges_at and rig.minutes >= edges_at[0]:
            evening.edges += edges.told(study, rig, edges_at.pop(0), prior, causes)
        while outlook_at and rig.minutes >= outlook_at[0]:
            evening.outlooks.append(outlook.told(study, rig, outlook_at.pop(0)))
    return evening


def _run(
    rig: EveningRig, study: planner.Study, proposal: planner.Proposal, best: outlook.Best
) -> None:
    run = rig.run(proposal.settings)
    facts: dict[str, Any] = {
        "score": run.score,
        "subscores": run.subscores,
        "readings": run.readings,
    }
    facts |= {"minutes": run.minutes, "failed_after_s": run.failed_after_s}
    study.record(run.outcome, number=proposal.number, **facts)
    passed = run.outcome == "pass"
    best.add(rig.minutes, rig.log_gain(proposal.settings) if passed else 0.0)
