"""What is written down of a proposal; `planner.replay.state` reads it."""

from typing import Any

from planner.domain.definition import Definition
from planner.domain.run import Proposal


def proposed_entry(definition: Definition, proposal: Proposal) -> dict[str, Any]:
    """The body of a `proposed` entry; bench, time and number are the entry's own."""
    narrowed = {"terms": proposal.terms.body} if proposal.terms.of_the_search else {}
    taken = {"taken_from": proposal.taken_from} if proposal.taken_from else {}
    return {
        "run": proposal.number,
        "settings": dict(proposal.settings),
        "workload": proposal.workload,
        "run_minutes": proposal.run_minutes,
        "start_when": proposal.start_when,
        "reason": proposal.reason,
        "pass_probability": proposal.pass_probability,
        "minutes": proposal.minutes,
        "at_own_risk": list(proposal.at_own_risk),
        "strategy": definition.goal.strategy,
        "boot_mark": proposal.boot_mark,
        **narrowed,
        **taken,
    }
