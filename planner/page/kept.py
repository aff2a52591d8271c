"""What is to be kept as things stand: the setting, what bears it out, the best score so far."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.gate import above_everyday
from planner.history import History
from planner.models.findings import Recommendation
from planner.page.asked import Rows
from planner.report.text import phrases
from planner.report.text.best import evidence_rows
from planner.report.text.confidence import claim_rows
from planner.report.text.standing import Standing

EVERYDAY, OWN_RISK = "To keep every day", "To keep at your own risk"


@dataclass(frozen=True, slots=True)
class Kept:
    """One setting to keep."""

    title: str
    rows: Rows


def kept_of(standing: Standing) -> Sequence[Kept]:
    """The setting to keep every day; before it that at own risk, where one was accepted."""
    history, best = standing.history, standing.best
    risky = standing.everyday is not None and standing.everyday.settings != best.settings
    safe, at_risk = _by_risk(history)
    if not risky or standing.everyday is None:
        title = OWN_RISK if best.at_own_risk else EVERYDAY
        return [Kept(title, _rows(standing, best, [*safe, *at_risk] if at_risk else safe))]
    return [
        Kept(OWN_RISK, _rows(standing, best, at_risk)),
        Kept(EVERYDAY, _rows(standing, standing.everyday, safe)),
    ]


def _rows(standing: Standing, kept: Recommendation, scored: Sequence[Run]) -> Rows:
    definition = standing.history.definition
    rows = evidence_rows(definition, kept)
    if kept is standing.best:
        rows += claim_rows(definition, kept)
    if not scored:
        return rows
    best = max(scored, key=lambda run: run.best_score or 0.0)
    where = phrases.setting(definition, best.ran)
    told = f"{format_number(best.best_score or 0.0)}, run {best.number}: {where}"
    if names := above_everyday(definition, best.ran):
        told += f"; {phrases.own_risk(list(names))}"
    return [*rows, ("Best score", told)]


def _by_risk(history: History) -> tuple[list[Run], list[Run]]:
    """The runs with a claimable score under all everyday ceilings, and the others."""
    sides: tuple[list[Run], list[Run]] = ([], [])
    for run in history.evidence:
        if run.best_score is not None:
            sides[bool(above_everyday(history.definition, run.ran))].append(run)
    return sides
