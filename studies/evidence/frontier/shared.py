"""The planner with aim = "frontier", asked until it closes the study."""

from __future__ import annotations

from scoring import Answer, Score, judge

from planner import Study
from planner.rigs.frontier import FrontierRig


def traced(rig: FrontierRig) -> Score:
    """Its frontier."""
    study = Study.create(rig.definition, store="memory")
    minutes, runs, crashes = 0.0, 0, 0
    while (proposal := study.next()) is not None:
        result = rig.run(proposal.settings)
        minutes, runs = minutes + result.minutes, runs + 1
        crashes += result.outcome == "crash"
        study.record(
            result.outcome,
            number=proposal.number,
            failed_after_s=result.failed_after_s,
            minutes=result.minutes,
        )
        if runs > 2000:
            raise RuntimeError("it never ends")
    points = [p for p in study.frontier().points if p.asked]
    answers = [Answer(p.along, p.kept, p.interval) for p in points]
    return judge(rig, answers, minutes, runs, crashes)
