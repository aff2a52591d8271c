"""The planner, asked until it closes the study."""

from __future__ import annotations

from bench import Answer, Bench

from planner import Study


def ours(bench: Bench) -> Answer:
    """Its recommendation, or that nothing holds, and its interval of the edge."""
    study = Study.create(bench.rig.definition, store="memory")
    knob = bench.rig.knob
    while (proposal := study.next()) is not None:
        value = proposal.settings[knob.name]
        assert not isinstance(value, str)
        result = bench.run(round(knob.hardness(value)))
        study.record(
            result.outcome,
            number=proposal.number,
            failed_after_s=result.failed_after_s,
            minutes=result.minutes,
        )
    ends = (knob.hardness(end) for end in study.edges()[knob.name].interval)
    low, high = sorted(ends)
    kept = study.recommendation()
    index = round(knob.hardness(float(kept.settings[knob.name]))) if kept.holds else None
    return Answer(index, (low, high))
