"""Confirming runs: the same setting again until the claim asked for is met."""

from dataclasses import dataclass

from planner.models.claim import Claim, claim_for
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
        return Choice(value, _reason(search, value, claim), cold_start=claim.cold_boots_owed > 0)


def _reason(search: EdgeSearch, value: float, claim: Claim) -> str:
    held = "first run there" if not claim.runs else f"{claim.passes} of {claim.runs} held there"
    owed = []
    if claim.passes_owed:
        passes = "pass" if claim.passes_owed == 1 else "passes in a row"
        owed.append(f"{claim.passes_owed} more {passes}")
    if claim.cold_boots_owed:
        owed.append(f"{claim.cold_boots_owed} from a cold start")
    return f"confirms {search.knob.show(value)}: {held}, owed: {' and '.join(owed)}"
