"""Gaps and comparisons of scores for programs; what has no end is null."""

from dataclasses import asdict
from math import isfinite
from typing import Any

from planner.domain.definition import Definition
from planner.domain.run import Run
from planner.models.scores.closing import KnobGap
from planner.models.scores.comparison import Comparison, Measure
from planner.models.scores.composite import Composite
from planner.models.scores.gap import GapTable, Target
from planner.models.scores.scored import score_of
from planner.trade.scores.spread import Sample


def gap_document(definition: Definition, table: GapTable) -> dict[str, Any]:
    """For `gap --json`."""
    noise, response = table.noise, table.response
    return {
        "study": definition.goal.name,
        "workload": table.workload,
        "best": {
            "run": table.best.number,
            "score": score_of(table.best),
            "settings": dict(table.best.ran),
            "repeats": _sample(table.here),
        },
        "noise": None if noise is None else {"deviation": noise[0], "repeats": noise[1]},
        "boots_alike_chance": table.boots,
        "drift": None if table.drift is None else asdict(table.drift),
        "made_of": _composite(table),
        "moved_by": [
            {**asdict(slope), "known": slope.known}
            for slope in (() if isinstance(response, str) else response.slopes)
        ],
        "not_known": [why for why in (table.composite, response) if isinstance(why, str)],
        "targets": [_target(target) for target in table.targets],
        "minutes_left": table.minutes_left,
    }


def _composite(table: GapTable) -> dict[str, Any] | None:
    found = table.composite
    if not isinstance(found, Composite):
        return None
    return {
        "rule": found.rule.value,
        "told": found.told,
        "runs": found.runs,
        "misfit": _finite(found.misfit),
        "weights": dict(found.weights),
        "errors": {name: _finite(error) for name, error in found.errors.items()},
        "not_told_apart_from": [rule.value for rule in found.others],
        "pulls": dict(table.pulls),
    }


def _target(target: Target) -> dict[str, Any]:
    return {
        "name": target.name,
        "score": target.score,
        "gap": target.gap,
        "beaten": target.gap <= 0,
        "luck": target.luck,
        "within_noise": target.within_noise,
        "parts": [asdict(part) for part in target.parts],
        "knobs": [_knob(gap) for gap in target.knobs],
    }


def _knob(gap: KnobGap) -> dict[str, Any]:
    return {
        **asdict(gap),
        "steps": _finite(gap.steps),
        "interval": [_finite(end) for end in gap.interval],
    }


def compare_document(definition: Definition, found: Comparison) -> dict[str, Any]:
    """For `compare --json`."""
    return {
        "study": definition.goal.name,
        "workload": found.workload,
        "a": _side(found.first),
        "b": _side(found.second),
        "measures": [_measure(measure) for measure in found.measures],
        "one_after_the_other": found.one_after_the_other,
    }


def _side(runs: tuple[Run, ...]) -> dict[str, Any]:
    return {
        "runs": [run.number for run in runs],
        "boots": len({run.boot for run in runs}),
        "settings": dict(runs[0].ran),
    }


def _measure(measure: Measure) -> dict[str, Any]:
    """The score itself has no name."""
    found = measure.difference
    return {
        "name": measure.name or None,
        "a": _sample(measure.first),
        "b": _sample(measure.second),
        "gain": measure.second.mean - measure.first.mean,
        "interval": None if found is None else list(found.interval()),
        "p_value": None if found is None else found.p_value,
        "real": measure.real,
        "own_spread": measure.own_spread,
        "repeats_to_settle": measure.repeats,
        "least_noticed": measure.least,
    }


def _sample(sample: Sample) -> dict[str, Any]:
    return {**asdict(sample), "hangs_together": sample.hangs_together}


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None
