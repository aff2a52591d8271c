"""Every screen, by name: a function of the width it is drawn in."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from planner.report.text.ceilings import accepted_text, caution_text
from planner.report.text.checked import Checked, checked_text
from planner.report.text.proposal import answer_owed_text, proposal_text
from planner.report.text.recorded import recorded_text
from planner.report.text.show import standing_text
from planner.report.text.standing import Standing
from planner.report.text.start import started_text
from planner.report.text.verdict import verdict_text
from tests.report.frontiers import CLOCKS, LEAST, SHUT, UNKNOWN, along
from tests.report.values import (
    BEST,
    EDGES,
    EVERYDAY,
    GUESS,
    HEAD,
    NOTHING,
    PROPOSAL,
    REPEAT,
    evening,
    fresh,
)

FRESH, EVENING = fresh(), evening()
EARLIER = replace(EVENING, runs=EVENING.runs[:7])
CLOSED = replace(EVENING, closed="the coffee is cold", verdict="")
SPENT = replace(EVENING, verdict="minutes spent: 181 of 180", runs=EVENING.runs * 3)
_FULL = Standing(EVENING, EDGES, BEST, EVERYDAY, None, HEAD)
_EMPTY = Standing(FRESH, {n: replace(e, runs=0) for n, e in EDGES.items()}, GUESS, None, None, HEAD)
_DONE = replace(_FULL, history=EARLIER, closing="edge known well enough: 5225 MHz passes with 94%")
_CLOCKS = replace(
    _FULL, history=along(EVENING, "core_clock", "core_voltage"), frontier=CLOCKS, everyday=None
)
_LEAST = replace(_CLOCKS, history=along(EVENING, "core_voltage", "core_clock"), frontier=LEAST)
_UNKNOWN = replace(
    _EMPTY, history=along(FRESH, "core_clock", "core_voltage"), frontier=UNKNOWN, best=GUESS
)
_CHECKED = Checked(EVENING, HEAD, True, "repaired: line 2: it is empty", "9:9f2c4b7a1e3d5f60", True)
_ROTTEN = replace(_CHECKED, adopted=False, repaired=None, head_holds=False)


def _recorded(number: int) -> Callable[[int], str]:
    run = EVENING.by_number[number]
    return lambda width: recorded_text(run, EVENING.definition, width)


SCREENS: Mapping[str, Callable[[int], str]] = {
    "next": lambda w: proposal_text(PROPOSAL, EARLIER, BEST, EVERYDAY, "", w),
    "next-repeat": lambda w: proposal_text(REPEAT, EARLIER, EVERYDAY, None, " -s shift", w),
    "next-after-no-start": lambda w: proposal_text(PROPOSAL, EVENING, NOTHING, None, "", w),
    "next-first": lambda w: proposal_text(PROPOSAL, FRESH, GUESS, None, "", w),
    "next-owed": lambda w: answer_owed_text(PROPOSAL, EVENING, "", w),
    "next-owed-named": lambda w: answer_owed_text(PROPOSAL, EVENING, ' -s "night shift"', w),
    "next-closed": lambda w: verdict_text(CLOSED, BEST, EVERYDAY, "", w),
    "next-spent": lambda w: verdict_text(SPENT, EVERYDAY, None, "", w),
    "record": _recorded(2),
    "record-crash": _recorded(3),
    "record-errors": _recorded(4),
    "record-stopped": _recorded(6),
    "record-too-high": _recorded(7),
    "show": lambda w: standing_text(_FULL, 15, "", w),
    "show-empty": lambda w: standing_text(_EMPTY, 15, "", w),
    "show-done": lambda w: standing_text(_DONE, 3, " -s shift", w),
    "show-frontier": lambda w: standing_text(_CLOCKS, 15, "", w),
    "show-frontier-least": lambda w: standing_text(_LEAST, 4, "", w),
    "show-frontier-empty": lambda w: standing_text(_UNKNOWN, 15, "", w),
    "show-frontier-shut": lambda w: standing_text(replace(_UNKNOWN, frontier=SHUT), 15, "", w),
    "check": lambda w: checked_text(_CHECKED, w),
    "check-rotten": lambda w: checked_text(_ROTTEN, w),
    "new": lambda w: started_text(FRESH.definition, "studies/shift/study.toml", "", w),
    "accept-risk": lambda w: caution_text(
        FRESH.definition, "core_voltage", FRESH.definition.guarded["core_voltage"], w
    ),
    "accept-risk-done": lambda w: accepted_text(EVENING, "core_voltage", w),
}
