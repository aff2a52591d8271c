"""When to close: each rule gives its reason in one sentence with its figures, or None."""

from collections.abc import Callable

import numpy as np

from planner.domain.quantity import format_number
from planner.history import History
from planner.models.claim import claim_for, claimable
from planner.models.edge_search import EdgeSearch
from planner.models.score_gain import score_gain
from planner.strategies import strategy_of

KNOWN_LOSS = 0.3
"""Expected loss under which the edge is known well enough to decide."""
FINE_KNOWN_LOSS = 0.1
"""The same on fine steps, where one too far costs less."""
WORTHWHILE = 0.001
"""Fall of expected loss per minute under which no run is worth its minutes."""


def closing_reason(search: EdgeSearch) -> str | None:
    """Why to close now, or None to go on; the person's own closing comes first.

    After the person reopened a study only spent minutes and an empty range still close it.
    """
    if search.history.closed:
        return search.history.closed
    if reason := minutes_spent(search.history) or nothing_permitted(search):
        return reason
    if search.history.reopened:
        return None
    reason = search_over(search)
    return None if reason is None or owed(search) else reason


def search_over(search: EdgeSearch) -> str | None:
    """Why no run of the search is worth making, confirming runs aside; None while one is."""
    strategy = strategy_of(search)
    if strategy.modelled:
        return next((reason for rule in _SEARCH_RULES if (reason := rule(search))), None)
    if strategy.choose(search) is not None:
        return None
    value = strategy.keep(search)
    kept = "nothing held" if value is None else f"{search.knob.show(value)} is the value to keep"
    return f"the strategy {search.history.definition.goal.strategy} is done: {kept}"


def kept(search: EdgeSearch) -> float | None:
    """The value to keep as the study's strategy judges, fit for the claim that is asked for."""
    return claimable(search, strategy_of(search).keep(search))


def owed(search: EdgeSearch) -> bool:
    """Whether the value to keep still lacks confirming runs that the study asks for."""
    value = kept(search)
    return value is not None and not claim_for(search, search.setting(value)).met


def minutes_spent(history: History) -> str | None:
    """The evening is over."""
    minutes, spent = history.definition.goal.minutes, history.minutes_spent
    if minutes is None or spent < minutes:
        return None
    return f"minutes spent: {format_number(round(spent, 1))} of {format_number(minutes)}"


def nothing_permitted(search: EdgeSearch) -> str | None:
    """Ceilings, rules and stops leave no value."""
    if search.values:
        return None
    easiest = search.setting(float(search.knob.values[0]))
    why = "; ".join(search.gate.objections(easiest))
    return f"nothing may be proposed for {search.knob.name}: {why}"


def nothing_holds(search: EdgeSearch) -> str | None:
    """Every permitted value most likely fails."""
    easiest = search.values[0]
    if search.recommended is not None or not _known(search):
        return None
    if not any(
        run.outcome.failed and run.ran == search.setting(easiest) for run in search.nominal_runs
    ):
        return None
    return (
        f"nothing in range holds: even {search.knob.show(easiest)} passes with"
        f" {search.chance(easiest):.0%}, {search.posterior.grid.target:.0%} is asked for"
    )


def edge_known(search: EdgeSearch) -> str | None:
    """The edge is known well enough for the decision, and a run bears out the recommendation."""
    if not _known(search) or not _borne_out(search):
        return None
    hardest = search.values[-1]
    beyond = search.posterior.beyond(search.levels[-1])
    if search.passed_at_or_above(hardest) and beyond > 0.5:
        return (
            f"nothing left under the ceilings: {_verdict(search)}; the edge most likely lies beyond"
            f" {search.knob.show(hardest)}, the last value permitted, which held too"
        )
    between = search.knob.show_between(*search.posterior.interval())
    # An edge that may lie where nothing is proposed need not be known any better.
    last = f"; {search.knob.show(hardest)} is the last value permitted" if beyond > 0.05 else ""
    known = f"{_verdict(search)}, the edge lies 9 to 1 between {between}"
    return f"edge known well enough: {known}{last}"


def not_worthwhile(search: EdgeSearch) -> str | None:
    """No run would lower the expected loss enough for its minutes."""
    if not _borne_out(search):
        return None
    worth = search.worth
    falls = worth.falls / worth.minutes
    best = int(np.argmax(falls))
    if falls[best] >= WORTHWHILE:
        return None
    return (
        f"no further run is worth its minutes: {_verdict(search)}; the best one left,"
        f" {search.knob.show(worth.values[best])} for {worth.minutes[best]:.0f} min, would settle"
        f" {worth.falls[best] / max(search.decision.loss, 1e-9):.0%} of the doubt"
    )


def within_noise(search: EdgeSearch) -> str | None:
    """The score has less left to gain than it differs from run to run."""
    gain = score_gain(search)
    if gain is None or gain.gain >= gain.noise or not _borne_out(search):
        return None
    return (
        f"gains within run-to-run noise: going up to {search.knob.show(gain.value)} is worth"
        f" {gain.gain:.2g} points, runs differ by {gain.noise:.2g}; {_verdict(search)}"
    )


_SEARCH_RULES: tuple[Callable[[EdgeSearch], str | None], ...] = (
    nothing_holds,
    edge_known,
    within_noise,
    not_worthwhile,
)


def _known(search: EdgeSearch) -> bool:
    fine = search.posterior.grid.tolerance > 1
    return search.decision.loss < (FINE_KNOWN_LOSS if fine else KNOWN_LOSS)


def _borne_out(search: EdgeSearch) -> bool:
    """Whether something passed at or above the recommendation."""
    value = search.recommended
    return value is not None and search.passed_at_or_above(value)


def _verdict(search: EdgeSearch) -> str:
    value = kept(search)
    if value is None:
        return "no value is likely to hold"
    return f"{search.knob.show(value)} passes with {search.chance(value):.0%}"
