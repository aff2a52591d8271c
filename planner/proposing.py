"""From the search to a proposal: which strategy speaks, the gate, and what the entry holds."""

from dataclasses import dataclass
from typing import Any

from planner.domain.knob import Setting
from planner.domain.quantity import with_unit
from planner.domain.run import Proposal
from planner.domain.tables import Workload
from planner.domain.terms import USUAL, Terms
from planner.entries.proposed import proposed_entry
from planner.errors import ForbiddenSetting
from planner.gate import Gate
from planner.history import History
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


@dataclass(frozen=True, slots=True)
class Asked:
    """A setting to run, before the gate's last look."""

    setting: Setting
    what: str
    """The setting in words, for a defect of whoever asked."""
    reason: str
    chance: float
    """Probability that it holds."""
    minutes: float
    """Expected for the whole attempt."""
    cold_start: bool = False
    workload: Workload | None = None
    """What is run; None: the study's workload."""


def asked_of(search: EdgeSearch, choice: Choice) -> Asked:
    """What the search of one knob asks for.

    Raises:
        ForbiddenSetting: the gate forbids it; no chance is reckoned for what is no value.
    """
    setting, what = search.setting(choice.value), with_unit(choice.value, search.knob.unit)
    _look(search.gate, setting, what)
    return Asked(
        setting,
        what,
        choice.reason,
        search.chance(choice.value),
        search.minutes(choice.value),
        choice.cold_start,
    )


def proposal_entry(
    history: History, gate: Gate, asked: Asked, boot_mark: str, terms: Terms = USUAL
) -> dict[str, Any]:
    """The body of a `proposed` entry; the last look before it is written.

    Raises:
        ForbiddenSetting: the gate forbids what was chosen; it is never clamped.
    """
    _look(gate, asked.setting, asked.what)
    workload = asked.workload or history.definition.workload
    proposal = Proposal(
        number=history.next_number,
        settings=asked.setting,
        workload=workload.name,
        run_minutes=workload.minutes,
        reason=asked.reason,
        pass_probability=round(asked.chance, 4),
        minutes=round(asked.minutes, 2),
        start_when="from a cold start" if asked.cold_start else "",
        at_own_risk=gate.at_own_risk(asked.setting),
        boot_mark=boot_mark,
        terms=terms,
    )
    return proposed_entry(history.definition, proposal)


def _look(gate: Gate, setting: Setting, what: str) -> None:
    if objections := gate.objections(setting):
        raise ForbiddenSetting(f"the strategy asked for {what}: {'; '.join(objections)}")
