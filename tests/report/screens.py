"""Every screen, by name: a function of the width it is drawn in."""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace

from planner import Study
from planner.domain.mains import Code, Mains
from planner.domain.memory import Standard
from planner.models.plans import hours_for, plans_for
from planner.models.scores.comparison import compared
from planner.peak.alternatives import Alternative
from planner.peak.blame import Blame
from planner.peak.forecast import Forecast
from planner.report.text.alternatives import alternatives_text
from planner.report.text.ceilings import accepted_text, caution_text
from planner.report.text.checked import Checked, checked_text
from planner.report.text.compare import compare_text
from planner.report.text.confidence import plans_text
from planner.report.text.forecast import forecast_text
from planner.report.text.gap import gap_text
from planner.report.text.mains import Draw, mains_text
from planner.report.text.proposal import answer_owed_text, proposal_text
from planner.report.text.recorded import recorded_text
from planner.report.text.show import standing_text
from planner.report.text.standing import Standing
from planner.report.text.start import started_text
from planner.report.text.timing.explained import Explained, explained_text
from planner.report.text.timing.module import module_text
from planner.report.text.verdict import verdict_text
from planner.report.text.why import why_text
from planner.trade.timing.spd.read import read_module
from planner.trade.timing.timings import Timings
from tests.models.scores.bench import scored_study
from tests.report.frontiers import CLOCKS, LEAST, SHUT, UNKNOWN, along
from tests.report.values import (
    BEST,
    DEFINITION,
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
from tests.trade.timing.spd_bytes import REAL_DDR5

FRESH, EVENING = fresh(), evening()
FITTED = scored_study([4200, 4200, 4300, 4300, 4400, 4400, 4400, 4500.0])
LITTLE = scored_study([4200.0, 4300.0])
CIRCUIT = Mains(120, 15, 200, 0.98, 0.9, Code.NEC)
TO_BEAT = (("the other light", 16_500.0), ("mine", 15_880.0), ("all of them", 30_000.0))
EARLIER = replace(EVENING, runs=EVENING.runs[:7])
LATE = replace(EARLIER, runs=(EARLIER.runs[0]._replace(minutes=150.0), *EARLIER.runs[1:]))
CLOSED = replace(EVENING, closed="the coffee is cold", verdict="")
OTHERS = (
    Alternative(
        {**FRESH.definition.stock, "core_clock": 5100},
        1,
        0.83,
        5.4,
        "would score about 15820 (15750 to 15890) if it holds, the best so far is 15740;"
        " core_clock is the likeliest to fail it",
    ),
    Alternative(
        {**FRESH.definition.stock, "core_clock": 5300, "core_voltage": 1.28},
        2,
        0.41,
        7.0,
        "would score about 16010 (15900 to 16120) if it holds, the best so far is 15740;"
        " core_clock is the likeliest to fail it",
    ),
)
AHEAD = Forecast(
    minutes=(0.0, 15.0, 30.0, 45.0, 60.0),
    low=(15740.0, 15740.0, 15742.0, 15760.0, 15771.0),
    middle=(15740.0, 15790.0, 15815.0, 15850.0, 15862.0),
    high=(15740.0, 15880.0, 15920.0, 15960.0, 15990.0),
    level=0.9,
    best=15740.0,
    worth=77.0,
    worth_sd=52.0,
    noise=21.0,
)
_CRASHED = next(run for run in EVENING.runs if run.outcome == "crash")
BLAMED = Blame(
    _CRASHED.number,
    {"core_clock": 0.83, "memory_voltage": 0.12, "": 0.04, "core_voltage": 0.01},
    {"core": 0.84, "memory": 0.12, "": 0.04},
    {**FRESH.definition.stock, "core_clock": 5300},
    0.42,
)
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
_NOTED = Study.create(
    tomllib.loads(DEFINITION + '[[rule]]\nname = "calm"\nholds = "core_clock / 2 <= 2510"\n')
).history
_NOTED_PENDING = replace(_NOTED, pending={"left": PROPOSAL}, runs=EVENING.runs[:2])
_TIMINGS = Timings(
    Standard.DDR5,
    6000,
    {"tCL": 30, "tRCD": 38, "tRP": 38, "tRAS": 60, "tRC": 90, "tRTP": 12, "tWR": 48}
    | {"tRRD_S": 8, "tFAW": 20, "tCCD_L": 15, "tRFC": 480, "tREFI": 65535, "tCR": 2},
)
_EXPLAINED = Explained(_TIMINGS, "night shift, pending run 8", _TIMINGS.at(6400), 16)
_TYPED = Explained(Timings(Standard.DDR4, 3200, {"tCL": 22}), "As typed")
_MODULE = read_module(REAL_DDR5, "module.bin")


def _recorded(number: int) -> Callable[[int], str]:
    run = EVENING.by_number[number]
    return lambda width: recorded_text(run, EVENING.definition, width)


def _gap(study: Study, width: int, *beat: tuple[str, float]) -> str:
    table = study.gap(beat=beat)
    assert table is not None
    return gap_text(study.history.definition, table, width)


def _compared(study: Study, first: int, second: int, width: int) -> str:
    history = study.history
    return compare_text(history.definition, compared(history, first, second), width)


SCREENS: Mapping[str, Callable[[int], str]] = {
    "next": lambda w: proposal_text(PROPOSAL, EARLIER, BEST, EVERYDAY, "", w),
    "next-late": lambda w: proposal_text(PROPOSAL, LATE, BEST, None, "", w),
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
    "next-note": lambda w: proposal_text(PROPOSAL, _NOTED, GUESS, None, "", w),
    "show-note": lambda w: standing_text(replace(_FULL, history=_NOTED_PENDING), 15, "", w),
    "timing-explain": lambda w: explained_text(_EXPLAINED, w),
    "timing-explain-typed": lambda w: explained_text(_TYPED, w),
    "timing-read": lambda w: module_text(_MODULE, "module.bin", w),
    "new": lambda w: started_text(FRESH.definition, "studies/shift/study.toml", "", w),
    "gap": lambda w: _gap(FITTED, w, *TO_BEAT),
    "gap-little": lambda w: _gap(LITTLE, w),
    "compare": lambda w: _compared(FITTED, 1, 5, w),
    "compare-little": lambda w: _compared(LITTLE, 1, 2, w),
    "claim": lambda w: plans_text(
        EVENING.definition, BEST, plans_for(BEST.claim, 0.9, 0.9), hours_for(BEST.claim, 10, 0.9), w
    ),
    "mains": lambda w: mains_text(CIRCUIT, [Draw("Highest", 1410), Draw("Stop", 1100)], 3, w),
    "alternatives": lambda w: alternatives_text(OTHERS, EVENING, w),
    "forecast": lambda w: forecast_text(EVENING, AHEAD, w),
    "forecast-flat": lambda w: forecast_text(EVENING, replace(AHEAD, noise=90.0), w),
    "why": lambda w: why_text(EVENING, BLAMED, w),
    "why-clear": lambda w: why_text(EVENING, replace(BLAMED, telling=None, bits=0.0), w),
    "accept-risk": lambda w: caution_text(
        FRESH.definition, "core_voltage", FRESH.definition.guarded["core_voltage"], w
    ),
    "accept-risk-done": lambda w: accepted_text(EVENING, "core_voltage", w),
}
