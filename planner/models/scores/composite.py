"""How a workload's score is made of its sub-scores: as told in study.toml, or fitted from runs."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from planner.domain.combining import Combining
from planner.domain.tables import Workload
from planner.models.scores.scored import Scored, score_of
from planner.trade.scores.combined import scaled_weights, total


@dataclass(frozen=True, slots=True)
class Composite:
    """A rule with its weights."""

    rule: Combining
    weights: Mapping[str, float]
    errors: Mapping[str, float]
    """Standard errors of fitted weights; empty where they were told."""
    runs: int
    """Runs with a total and all sub-scores."""
    misfit: float
    """Root mean square by which those totals miss the rule; of a fit, each run left out, points."""
    others: tuple[Combining, ...]
    """Rules that the runs leave possible besides."""

    @property
    def told(self) -> bool:
        """Whether rule and weights stand in study.toml."""
        return not self.errors


def composite_of(workload: Workload, scored: Scored) -> Composite:
    """The rule behind the scores.

    Raises:
        ValueError: weights that do not add up, missing sub-scores, or too few runs for a fit; the
            message says which and what was expected.
    """
    names = part_names(workload, scored)
    if len(names) < 2:
        raise ValueError("no two sub-scores are named in study.toml or recorded with a run")
    whole = [run for run in scored.runs if all(run.subscores.get(n, 0) > 0 for n in names)]
    totals, parts = (
        [score_of(r) for r in whole],
        [{n: r.subscores[n] for n in names} for r in whole],
    )
    if (told := told_rule(workload)) is not None:
        rule, weights = told
        missed = [total(rule, weights, p) - t for p, t in zip(parts, totals, strict=True)]
        misfit = sqrt(sum(m * m for m in missed) / len(missed)) if missed else 0.0
        return Composite(rule, weights, {}, len(whole), misfit, ())
    from planner.trade.scores.fitting import fit_rule, runs_for_fit  # numpy's linear algebra

    needed, lacking = runs_for_fit(len(names)), len(scored.runs) - len(whole)
    if len(whole) < needed:
        besides = f"; {lacking} more without some of them" if lacking else ""
        have = "1 run has" if len(whole) == 1 else f"{len(whole)} runs have"
        raise ValueError(
            f"{have} a score and all of {', '.join(names)}{besides}: a fit needs {needed}"
        )
    fitted = fit_rule(totals, parts, workload.combine)
    best = fitted.best
    others = tuple(fit.rule for fit in fitted.fits[1:])
    return Composite(best.rule, best.weights, best.errors, len(whole), best.prediction, others)


def told_rule(workload: Workload) -> tuple[Combining, Mapping[str, float]] | None:
    """Rule and weights of study.toml; None where one of them is left to a fit.

    Raises:
        ValueError: weights that do not add up.
    """
    if workload.combine is None or any(weight is None for _, weight in workload.subscores):
        return None
    given = {name: weight or 0.0 for name, weight in workload.subscores}
    return workload.combine, scaled_weights(workload.combine, given)


def part_names(workload: Workload, scored: Scored) -> tuple[str, ...]:
    """Sub-scores that the workload names, else those that its runs have."""
    if workload.subscores:
        return tuple(name for name, _ in workload.subscores)
    return tuple(dict.fromkeys(name for run in scored.runs for name in run.subscores))
