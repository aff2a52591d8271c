"""The planner through its Python interface: next, record."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
from bench import Bench

import planner


@dataclass(frozen=True)
class Blamed:
    """One failed run."""

    run: int
    shares: dict[str, float]
    """Of the groups."""
    true: str
    """The group that failed; empty: a stray crash."""
    moved: tuple[str, ...]
    """The groups that had been moved from stock."""


@dataclass
class Said:
    """What the planner stated along an evening, beside the truth."""

    asked: list[tuple[float, float]] = field(default_factory=list)
    """Chance stated and true chance of each proposal."""
    kept: list[tuple[float, float]] = field(default_factory=list)
    """The same of the recommendation after 60, 120 and 180 minutes."""
    blamed: list[Blamed] = field(default_factory=list)
    """Each failed run as it was blamed when it was told."""
    looked_back: list[Blamed] = field(default_factory=list)
    """The same runs as they are blamed at the evening's end."""


def played(bench: Bench, suspecting: float | None = None) -> Said:
    """An evening; `suspecting`: how often the group that the person suspects is the true one."""
    rig, said = bench.rig, Said()
    rng = np.random.default_rng([rig.seed, 1])
    definition = rig.definition
    study = planner.Study.create(definition, store="memory")
    marks = [60.0, 120.0, 180.0]
    while not bench.over:
        study.reopen()
        proposal = study.next()
        if proposal is None:
            break
        said.asked.append((proposal.pass_probability, rig.pass_probability(proposal.settings)))
        result = bench.run(proposal.settings)
        group = _group(bench) if result.outcome != "pass" else ""
        facts = {"minutes": result.minutes, "score": result.score, "readings": result.readings}
        facts |= {"subscores": result.subscores, "failed_after_s": result.failed_after_s}
        if suspecting is not None and result.outcome != "pass":
            facts["suspect"] = _suspicion(rng, rig.groups, group, suspecting)
        study.record(result.outcome, number=proposal.number, **facts)
        if result.outcome != "pass":
            said.blamed.append(_blamed(study, bench, proposal, group))
        while marks and rig.minutes >= marks[0]:
            marks.pop(0)
            kept = study.recommendation()
            said.kept.append((kept.pass_probability, rig.pass_probability(kept.settings)))
    said.looked_back = [replace(b, shares=dict(study.blame(b.run).groups)) for b in said.blamed]
    return said


def _group(bench: Bench) -> str:
    cause = bench.rig.cause
    return bench.rig.knobs[cause].group if cause else ""


def _suspicion(rng: np.random.Generator, groups: tuple[str, ...], group: str, right: float) -> str:
    others = [name for name in groups if name != group]
    if group and rng.random() < right:
        return group
    return str(rng.choice(others))


def _blamed(study: planner.Study, bench: Bench, proposal: planner.Proposal, group: str) -> Blamed:
    stock, knobs = bench.rig.stock, bench.rig.knobs
    moved = {knobs[n].group for n, v in proposal.settings.items() if v != stock[n]}
    shares = dict(study.blame(proposal.number).groups)
    return Blamed(proposal.number, shares, group, tuple(sorted(moved)))
