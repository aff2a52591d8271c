"""What is said once nothing is left to propose."""

from planner.history import History
from planner.models.findings import Recommendation
from planner.report.text.best import evidence_rows
from planner.report.text.confidence import claim_rows
from planner.report.text.layout import labelled, prose
from planner.report.text.outlook import barred_rows


def verdict_text(
    history: History,
    best: Recommendation,
    everyday: Recommendation | None,
    suffix: str,
    width: int,
) -> str:
    """The reason, the setting to keep, and how to go on."""
    definition = history.definition
    opening = "is closed" if history.closed else "has nothing left to propose"
    lines = prose(f"{definition.goal.name} {opening}.", width)
    rows = [("Reason", history.closed or history.verdict)]
    rows += evidence_rows(definition, best)
    rows += claim_rows(definition, best)
    if everyday is not None and everyday.settings != best.settings:
        rows += evidence_rows(definition, everyday, "Everyday")
    rows += barred_rows(history, best.settings)
    rows.append(("Go on", _how_to_go_on(history, suffix)))
    return "\n".join([*lines, "", *labelled(rows, width)])


def _how_to_go_on(history: History, suffix: str) -> str:
    available = history.definition.goal.minutes
    if not history.closed and available is not None and history.minutes_spent >= available:
        return f"raise minutes = {available:g} in study.toml, then planner next{suffix}"
    return f"planner reopen{suffix}, then planner next{suffix}"
