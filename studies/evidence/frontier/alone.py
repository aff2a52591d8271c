"""Each voltage alone, one after the other: by bisection with confirming passes, and the planner.

Neither is charged for dialling in the voltage itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from scoring import Answer, Score, judge, nine

from planner import Study
from planner.rigs.frontier import FrontierRig
from planner.rigs.one_knob import OneKnobRig
from planner.rigs.result import RigRun

PASSES = 8
"""Confirming passes in a row; a failure among them means one step back and confirming anew."""


@dataclass
class _Tally:
    minutes: float = 0.0
    runs: int = 0
    crashes: int = 0
    answers: list[Answer] = field(default_factory=list)

    def run(self, bench: OneKnobRig, value: float) -> RigRun:
        result = bench.run({bench.knob.name: value})
        self.minutes += result.minutes
        self.runs += 1
        self.crashes += result.outcome == "crash"
        return result

    def score(self, rig: FrontierRig) -> Score:
        return judge(rig, self.answers, self.minutes, self.runs, self.crashes)


def bisected(rig: FrontierRig) -> Score:
    """Halve from the lowest clock until one step is left, then confirm."""
    tally = _Tally()
    for volts in nine(rig):
        tally.answers.append(Answer(volts, _bisected(rig.at(volts), tally)))
    return tally.score(rig)


def _bisected(bench: OneKnobRig, tally: _Tally) -> float | None:
    values = [float(value) for value in bench.knob.values]
    held, failed = -1, len(values)
    while failed - held > 1:
        middle = (held + failed) // 2
        if tally.run(bench, values[middle]).outcome == "pass":
            held = middle
        else:
            failed = middle
    while held >= 0:
        if all(tally.run(bench, values[held]).outcome == "pass" for _ in range(PASSES)):
            return values[held]
        held -= 1
    return None


def searched_alone(rig: FrontierRig) -> Score:
    """The planner's one-knob search at each voltage, knowing nothing of the others."""
    tally = _Tally()
    for volts in nine(rig):
        tally.answers.append(_searched(rig.at(volts), volts, tally))
    return tally.score(rig)


def _searched(bench: OneKnobRig, volts: float, tally: _Tally) -> Answer:
    study = Study.create(bench.definition, store="memory")
    knob = bench.knob.name
    while (proposal := study.next()) is not None:
        result = tally.run(bench, float(proposal.settings[knob]))
        study.record(
            result.outcome,
            number=proposal.number,
            failed_after_s=result.failed_after_s,
            minutes=result.minutes,
        )
    best = study.recommendation()
    kept = float(best.settings[knob]) if best.holds else None
    return Answer(volts, kept, study.edges()[knob].interval)
