"""Confirming runs: the same setting again until the claim asked for is met."""

from dataclasses import dataclass

from planner.models.claim import claim_for
from planner.models.edge_search import EdgeSearch
from planner.strategies.strategy import Choice


@dataclass(frozen=True)
class Confirming:
    """Repeats the value to keep, from a cold start while cold boots are owed."""

    value: float | None
    """The value to keep; None where none holds."""

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The value to keep; None once nothing is owed or nothing holds."""
        value = self.value
        if value is None:
            return None
        claim = claim_for(search, search.setting(value))
        if claim.met:
            return None
        owed = [f"{claim.passes_owed} more passes in a row"] if claim.passes_owed else []
        if claim.cold_boots_owed:
            owed.append(f"{claim.cold_boots_owed} of them from a cold start")
        reason = (
            f"confirms {search.knob.show(value)}: {claim.passes} of {claim.runs} runs held there,"
            f" {', '.join(owed)} owed"
        )
        return Choice(value, reason, cold_start=claim.cold_boots_owed > 0)
