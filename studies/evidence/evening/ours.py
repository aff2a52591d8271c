"""The planner through its Python interface: next, record."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from bench import Bench

import planner


@dataclass
class Said:
    """What the planner stated along an evening, beside the truth."""

    asked: list[tuple[float, float]] = field(default_factory=list)
    """Chance stated and true chance of each proposal."""
    kept: list[tuple[float, float]] = field(default_factory=list)
    """The same of the recommendation after 60, 120 and 180 minutes."""
    blamed: list[tuple[dict[str, float], str, tuple[str, ...]]] = field(default_factory=list)
    """For each failed run the shares of the groups when it was told, the true group (empty: a
    stray crash) and the groups that had been moved from stock."""


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
            _blame(study, bench, proposal, group, said)
        while marks and rig.minutes >= marks[0]:
            marks.pop(0)
            kept = study.recommendation()
            said.kept.append((kept.pass_probability, rig.pass_probability(kept.settings)))
    return said


def _group(bench: Bench) -> str:
    cause = bench.rig.cause
    return bench.rig.knobs[cause].group if cause else ""


def _suspicion(rng: np.random.Generator, groups: tuple[str, ...], group: str, right: float) -> str:
    others = [name for name in groups if name != group]
    if group and rng.random() < right:
        return group
    return str(rng.choice(others))


def _blame(
    study: planner.Study, bench: Bench, proposal: planner.Proposal, group: str, said: Said
) -> None:
    stock, knobs = bench.rig.stock, bench.rig.knobs
    moved = {knobs[n].group for n, v in proposal.settings.items() if v != stock[n]}
    said.blamed.append((study.blame(proposal.number).groups, group, tuple(sorted(moved))))
