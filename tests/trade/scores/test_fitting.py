"""Rules and weights recovered from totals that were made with known ones."""

from collections.abc import Mapping

import numpy as np
import pytest

from planner.domain.combining import Combining
from planner.trade.scores.combined import total
from planner.trade.scores.fitting import fit_rule

WEIGHTS = {"shade": 0.55, "pack": 0.3, "solve": 0.15}
MEANS = (Combining.ARITHMETIC, Combining.GEOMETRIC, Combining.HARMONIC)


def made_runs(rule: Combining, runs: int, seed: int) -> tuple[list[float], list[dict[str, float]]]:
    """Sub-scores as an evening moves them, each within a tenth, and the total in whole points."""
    rng = np.random.default_rng(seed)
    base = {"shade": 21_000.0, "pack": 14_000.0, "solve": 9_000.0}
    parts = [
        {name: round(value * float(rng.uniform(0.95, 1.05))) for name, value in base.items()}
        for _ in range(runs)
    ]
    return [float(round(total(rule, WEIGHTS, run))) for run in parts], parts


def off_by(found: Mapping[str, float]) -> float:
    return max(abs(found[name] - weight) for name, weight in WEIGHTS.items())


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("rule", MEANS)
def test_six_runs_give_rule_and_weights_back(rule: Combining, seed: int) -> None:
    """Within 0.01, told apart from the other rules, and a run left out within 1 point."""
    fitted = fit_rule(*made_runs(rule, 6, seed))
    assert fitted.best.rule is rule
    assert fitted.told_apart
    assert off_by(fitted.best.weights) < 0.01
    assert fitted.best.prediction < 1


def test_a_new_run_is_predicted_within_a_point() -> None:
    """From five runs, in 60 evenings of 60."""
    for seed in range(60):
        totals, parts = made_runs(Combining.HARMONIC, 6, 1000 + seed)
        best = fit_rule(totals[:5], parts[:5]).best
        assert best.rule is Combining.HARMONIC
        assert abs(total(best.rule, best.weights, parts[5]) - totals[5]) <= 1


def test_errors_cover_the_truth() -> None:
    """Stated standard errors: the true weight lies within three in nearly every evening."""
    inside = []
    for seed in range(100):
        best = fit_rule(*made_runs(Combining.HARMONIC, 12, 2000 + seed)).best
        inside += [abs(best.weights[n] - w) <= 3 * best.errors[n] for n, w in WEIGHTS.items()]
    assert np.mean(inside) > 0.95


def test_a_weighted_sum_is_told_from_a_mean() -> None:
    """Weights 2.75, 0.61 and 19 of parts that differ a lot."""
    rng = np.random.default_rng(4)
    truth = {"shade": 2.75, "pack": 0.61, "solve": 19.0}
    base = {"shade": 318.0, "pack": 1466.0, "solve": 20.6}
    parts = [
        {n: round(v * float(rng.uniform(0.9, 1.1)), 2) for n, v in base.items()} for _ in range(9)
    ]
    fitted = fit_rule([round(total(Combining.SUM, truth, run), 1) for run in parts], parts)
    assert fitted.best.rule is Combining.SUM
    assert fitted.told_apart
    assert [fitted.best.weights[n] / w for n, w in truth.items()] == pytest.approx([1] * 3, abs=0.1)


def test_parts_that_move_together_leave_rules_open() -> None:
    """Where every part rises in step, means cannot be told apart, and errors say so."""
    parts = [{"a": 1000.0 * f, "b": 1000.0 * f} for f in (1.0, 1.01, 1.02, 1.03, 1.04)]
    fitted = fit_rule([run["a"] for run in parts], parts)
    assert not fitted.told_apart
    assert all(np.isinf(error) for error in fitted.best.errors.values())


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda runs: runs[:3], "3 runs with a total and all 3 sub-scores: a fit needs 4"),
        (lambda runs: [*runs[:4], {"shade": 1.0}], "sub-scores are missing in some runs"),
        (lambda runs: [{"shade": 1.0}] * 4, "expected two or more"),
        (lambda runs: [*runs[:4], {**runs[0], "pack": 0.0}], "not positive"),
    ],
)
def test_what_cannot_be_fitted_is_said(change: object, told: str) -> None:
    """Too few runs, missing parts, a part of nought."""
    totals, parts = made_runs(Combining.HARMONIC, 6, 1)
    runs = change(parts)  # type: ignore[operator]
    with pytest.raises(ValueError, match=told):
        fit_rule(totals[: len(runs)], runs)
