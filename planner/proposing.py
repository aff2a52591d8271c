"""From the search to a proposal: which strategy speaks, the gate, and what the entry holds."""

from typing import Any

from planner.domain.quantity import with_unit
from planner.errors import ForbiddenSetting
from planner.models.edge_search import EdgeSearch
from planner.stopping import kept, owed, search_over
from planner.strategies import Choice, strategy_of
from planner.strategies.confirming import Confirming


def choose(search: EdgeSearch) -> Choice | None:
    """What to run next: the study's strategy, then the confirming runs that it owes.

    Raises:
        DefinitionError: the study names a strategy that there is not.
    """
    over = not search.history.reopened and search_over(search) is not None
    choice = None if over else strategy_of(search).choose(search)
    return choice or (Confirming(kept(search)).choose(search) if owed(search) else None)


def proposal_entry(search: EdgeSearch, choice: Choice, boot_mark: str) -> dict[str, Any]:
    """The body of a `proposed` entry; the last look before it is written.

    Raises:
        ForbiddenSetting: the gate forbids what was chosen; it is never clamped.
    """
    setting = search.setting(choice.value)
    if objections := search.gate.objections(setting):
        raise ForbiddenSetting(
            f"the strategy asked for {with_unit(choice.value, search.knob.unit)}:"
            f" {'; '.join(objections)}"
        )
    workload = search.history.definition.workload
    return {
        "run": search.history.next_number,
        "settings": setting,
        "workload": workload.name,
        "run_minutes": workload.minutes,
        "start_when": "from a cold start" if choice.cold_start else "",
        "reason": choice.reason,
        "pass_probability": round(search.chance(choice.value), 4),
        "minutes": round(search.minutes(choice.value), 2),
        "at_own_risk": list(search.gate.at_own_risk(setting)),
        "strategy": search.history.definition.goal.strategy,
        "boot_mark": boot_mark,
    }
