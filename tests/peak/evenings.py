"""Evenings through the study on simulated rigs, every proposal looked at by the gate."""

from collections.abc import Sequence
from typing import Any

from planner import Study
from planner.domain.dialling import dial_minutes
from planner.domain.run import Proposal
from planner.domain.tables import Aim
from planner.gate import gate_of
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.rig import EveningRig


def played(
    seed: int, until: float, only: Sequence[str] = (), **goal: Any
) -> tuple[Study, EveningRig]:
    """An evening of so many minutes; `only`: knobs turned at all, `goal`: keys of `[study]`."""
    rig = evening_rig(seed)
    tables = rig.definition
    if only:
        tables["knob"] = [knob for knob in tables["knob"] if knob["name"] in only]
    tables["study"] |= goal
    study = Study.create(tables)
    everyday_only = study.history.definition.goal.aim in ("everyday", "trim")
    while rig.minutes < until:
        proposal = study.next()
        if proposal is None:
            break
        assert gate_of(study.history, everyday_only).objections(proposal.settings) == []
        assert proposal.workload == study.history.definition.workload.name
        assert not study.history.runs or _fits(study, proposal)
        run = rig.run({**rig.stock, **proposal.settings})
        facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
        study.record(run.outcome, minutes=run.minutes, failed_after_s=run.failed_after_s, **facts)
    return study, rig


def _fits(study: Study, proposal: Proposal) -> bool:
    """Whether a run in a peak attempt ends before the evening does."""
    history = study.history
    left, goal = history.minutes_left, history.definition.goal
    if left is None or goal.aim is not Aim.PEAK:
        return True
    dial = dial_minutes(history.definition, history.machine, proposal.settings, history.restarting)
    return dial + proposal.run_minutes <= left
