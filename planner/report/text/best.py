"""The setting to keep as things stand, with what bears it out."""

from planner.domain.definition import Definition
from planner.models.edge import LEVEL
from planner.models.findings import Recommendation
from planner.report.text import phrases


def best_rows(
    definition: Definition, best: Recommendation, everyday: Recommendation | None
) -> list[tuple[str, str]]:
    """One labelled line for the best setting, one more where an everyday one stands beside it."""
    if everyday is None or everyday.settings == best.settings:
        return [(_label(definition, best), in_short(definition, best))]
    return [
        (
            _label(definition, best),
            f"{in_short(definition, best)}, AT YOUR OWN RISK",
        ),
        ("Everyday", in_short(definition, everyday)),
    ]


def in_short(definition: Definition, best: Recommendation) -> str:
    """Setting, chance and runs in one sentence."""
    where = phrases.setting(definition, best.settings)
    if not best.holds:
        return f"none is known to hold yet; the easiest permitted is {where}"
    claim = best.claim
    runs = f"{claim.passes} of {phrases.counted(claim.runs, 'run')} held"
    runs = runs if claim.runs else "not run yet"
    return f"{where}: {phrases.chance(best.pass_probability)} to pass ({runs})"


def evidence_rows(
    definition: Definition, best: Recommendation, label: str = ""
) -> list[tuple[str, str]]:
    """Labelled lines with everything that bears the setting out, and what is owed."""
    label = label or _label(definition, best)
    where = phrases.setting(definition, best.settings)
    if not best.holds:
        return [(label, f"none is known to hold yet; the easiest permitted is {where}")]
    low, high = (phrases.chance(end) for end in best.interval)
    rows = [
        (label, where),
        (
            "",
            f"{phrases.chance(best.pass_probability)} to pass"
            f" ({LEVEL:.0%} interval: {low} to {high})",
        ),
        ("", _claim(definition, best)),
    ]
    if best.at_own_risk:
        rows.append(("", phrases.own_risk(best.at_own_risk)))
    return rows + _debt_rows(best)


def _label(definition: Definition, best: Recommendation) -> str:
    """What nothing bears out and the model doubts is a guess."""
    backed = best.claim.passes or best.pass_probability >= definition.goal.target
    return "Best" if backed or not best.holds else "Best guess"


def _claim(definition: Definition, best: Recommendation) -> str:
    claim = best.claim
    if not claim.runs:
        return "not run at exactly this setting yet"
    sure = definition.goal.confidence or LEVEL
    boots = f" over {phrases.counted(claim.cold_boots, 'cold boot')}" if claim.cold_boots else ""
    return (
        f"{claim.passes} of {phrases.counted(claim.runs, 'run')} held exactly there{boots}; by"
        f" these alone at least {phrases.chance(claim.lower_bound)} pass, {sure:.0%} sure"
    )


def _debt_rows(best: Recommendation) -> list[tuple[str, str]]:
    """The confirming runs that are owed, or why none can help."""
    claim = best.claim
    if claim.spoilt:
        return [("Claim", "none: a run failed there")]
    owed = []
    if claim.passes_owed:
        owed.append(phrases.counted(claim.passes_owed, "more pass", "more passes in a row"))
    if claim.cold_boots_owed:
        owed.append(
            phrases.counted(claim.cold_boots_owed, "more pass", "more passes") + " from a cold boot"
        )
    return [("Owed", "; ".join(owed))] if owed else []
