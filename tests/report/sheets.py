"""Sheets to look at, by name: made by hand where a model's figure would stand on them."""

import hashlib
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from planner import Study
from planner.domain.ledger import Head
from planner.domain.tables import Part, Rig
from planner.history import History
from planner.models.claim import Claim
from planner.models.findings import Recommendation
from planner.report.sheet.gather import search_of, sheet_of
from planner.report.sheet.nouns import Sheet
from planner.report.written.blocks import Attached
from tests.report.frontiers import CLOCKS, along
from tests.report.values import BEST, EVERYDAY, GUESS, HEAD, evening, fresh

DEFINITION = """\
[study]
name = "spring tide"
knob = "core_ratio"
confidence = 0.9
cold_boots = 2

[rig]
parts = [
    { name = "Tallow 8 processor", price = 410 },
    { name = "Wickboard C", price = 239.5 },
    { name = "bellows cooler" },
]
cooling = "bellows"
currency = "crowns"
cost_brackets = { small = 700, middle = 1500 }

[[knob]]
name = "core_ratio"
unit = "x"
low = 44
high = 58
step = 1
stock = 48
where = "live"

[[knob]]
name = "base_clock"
unit = "MHz"
low = 98
high = 106
step = 0.5
stock = 100

[[knob]]
name = "core_base"
unit = "V"
low = 1.0
high = 1.3
step = 0.01
stock = 1.15
harder = "down"

[[knob]]
name = "core_offset"
unit = "mV"
low = -100
high = 150
step = 5
stock = 0
harder = "down"

[[knob]]
name = "gear"
harder = "choice"
choices = ["auto", "one", "two"]
stock = "auto"

[[derived]]
name = "core_clock"
unit = "MHz"
product = ["base_clock", "core_ratio"]

[[derived]]
name = "core_voltage"
unit = "V"
sum = ["core_base", "core_offset"]
everyday = 1.22
own_risk = 1.28
hard_stop = 1.3

[[reading]]
name = "room"
unit = "C"
source = "thermometer beside the intake"

[[reading]]
name = "hotspot"
unit = "C"
source = "the board's own"
stop = 95

[[workload]]
name = "long sums"
minutes = 6
subscores = { shade = 2.5, pack = 0.6 }

version = "3.1"

[claim_rules]
workload = "long sums"
version = "3.1"
subscores = true
readings = ["room"]
pictures = ["score.png"]
cooling = ["bellows", "still air"]
bracket = "small"
settings = ["core_voltage <= 1.26"]
trusted_clock = ["base_clock"]
also = ["a second pair of eyes"]

[[workload]]
name = "short hop"
minutes = 1
scored = true
"""
PICTURE = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
TOLD: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    ("pass", {}, {"score": 11800, "readings": {"room": 20.1, "hotspot": 71}}),
    ("pass", {"core_ratio": 52}, {"score": 12801, "readings": {"room": 20.4, "hotspot": 84}}),
    ("pass", {"core_ratio": 52}, {"score": 12795, "subscores": {"shade": 4101, "pack": 4244}}),
    ("crash", {"core_ratio": 53}, {"failed_after_s": 85}),
    ("pass", {"core_ratio": 53}, {"score": 13100, "capped": "power"}),
    ("pass", {"core_ratio": 53}, {"score": 13350, "note": "wrong version, struck"}),
    ("pass", {"core_ratio": 52}, {"score": 12788.25, "boot": "cold", "run_minutes": 12}),
    (
        "pass",
        {"core_ratio": 54, "core_offset": 110},
        {
            "score": 13204.5,
            "subscores": {"shade": 4233.5, "pack": 4367.25},
            "actual": {"core_offset": 105},
            "readings": {"room": 19.2, "hotspot": 96.5},
            "boot": "cold",
            "note": "windows open, the kettle off",
        },
    ),
    ("pass", {"core_ratio": 55, "core_base": 1.32}, {"score": 901.5, "workload": "short hop"}),
    ("pass", {"core_ratio": 52}, {"score": 880, "workload": "short hop"}),
]
"""An evening by hand: repeats, a cap, a struck run, an own-risk best, a second workload."""


def told() -> Study:
    """The evening as a study in memory."""
    study = Study.create(tomllib.loads(DEFINITION))
    for outcome, settings, facts in TOLD:
        study.record(outcome, settings=settings, **facts)
    study.amend(2, score=12810, subscores={"shade": 4110.5, "pack": 4250})
    study.amend(6, outcome="void")
    study.accept_risk("core_voltage", 1.26)
    return study


def dated(history: History) -> History:
    """The same with a time of its own for each run, on one evening and the morning after."""
    times = [
        f"2026-03-{18 + hour // 24}T{hour % 24:02d}:05:00Z"
        for hour in range(20, 20 + len(history.runs))
    ]
    runs = tuple(
        run._replace(time=time, bench="left") for run, time in zip(history.runs, times, strict=True)
    )
    return replace(history, runs=runs)


def _kept(history: History, claim: Claim, chance: float, **settings: Any) -> Recommendation:
    where = history.definition.stock | settings
    risk = ("core_voltage",) if "core_offset" in settings else ()
    return Recommendation(where, chance, (chance - 0.12, 0.995), 0.2, True, claim, risk)


def scored() -> Sheet:
    """An evening with scores, an own-risk best, and an everyday setting beside the one to keep."""
    history = dated(told().history)
    best = _kept(
        history, Claim(1, 1, 1, 0.1, 21, 1, False), 0.91, core_ratio=54.0, core_offset=105.0
    )
    everyday = _kept(history, Claim(3, 3, 1, 0.464, 19, 1, False), 0.96, core_ratio=52.0)
    search = search_of(history, best, everyday, None)
    picture = Attached("edge.svg", _digest(PICTURE), len(PICTURE), "image/svg+xml", PICTURE)
    proof = Attached("proof.txt", _digest(b"seen"), 4, "", None)
    return sheet_of(history, search, HEAD, (picture, proof))


def unscored() -> Sheet:
    """A search of an edge without scores, closed, with a claim that a failure spoilt."""
    history = dated(evening())
    bare = tuple(run._replace(score=None) for run in history.runs)
    history = replace(history, runs=bare, closed="the coffee is cold")
    return sheet_of(history, search_of(history, EVERYDAY, None, None), HEAD)


def changed() -> Sheet:
    """A score from before the machine and the study changed: a knob gone, one new, a ceiling up."""
    study = told()
    study.changed("new paste", [])
    history = dated(study.history)
    text = (
        DEFINITION.replace("everyday = 1.22", "everyday = 1.26")
        .replace('name = "gear"', 'name = "lanes"')
        .replace("[[workload]]\nname", '[[reading]]\nname = "pump"\n\n[[workload]]\nname', 1)
    )
    other = Study.create(tomllib.loads(text)).history.definition
    stock = other.stock
    runs = tuple(
        run._replace(ran={n: run.ran.get(n, v) for n, v in stock.items()}) for run in history.runs
    )
    history = replace(history, definitions=(history.definition, other), runs=runs)
    best = _kept(history, Claim(0, 0, 0, 0.0, 22, 2, False), 0.93, core_ratio=52.0)
    return sheet_of(history, search_of(history, best, None, None), HEAD)


def empty() -> Sheet:
    """Before the first run."""
    history = fresh()
    guess = replace(GUESS, holds=False)
    return sheet_of(history, search_of(history, guess, None, None), Head(1, "a0" * 32))


EVIL = "<b>&amp;</b> | `rm` **x** _y_ [z](http://q) \\ # $1$\r\n- \x1b[2J\u202e</script>\"'"
"""What a name or note may hold when a ledger was written by hand."""


def hostile() -> Sheet:
    """Every text that a person may have typed is one that tries to break out."""
    history = dated(evening())
    definition = history.definition
    definition = replace(
        definition,
        goal=replace(definition.goal, name=EVIL),
        rig=Rig((Part(EVIL, 1.0), Part(EVIL))),
        readings={EVIL: replace(definition.readings["hotspot"], name=EVIL, unit=EVIL, source=EVIL)},
        knobs={n: replace(k, unit=EVIL) for n, k in definition.knobs.items()},
    )
    facts: dict[str, Any] = {"note": EVIL, "symptom": EVIL, "workload": EVIL, "bench": EVIL}
    facts |= {"origin": EVIL, "subscores": {EVIL: 1.0}, "readings": {EVIL: 2.0}, "time": EVIL}
    runs = tuple(run._replace(**facts) for run in history.runs)
    history = replace(history, definitions=(definition,), runs=runs, closed=EVIL)
    file = Attached(EVIL, "0f" * 32, 3, "image/png", b"abc")
    return sheet_of(history, search_of(history, BEST, EVERYDAY, None), HEAD, (file,))


def traced() -> Sheet:
    """A frontier with every kind of point that its table tells apart."""
    history = along(dated(evening()), "core_clock", "core_voltage")
    return sheet_of(history, search_of(history, BEST, EVERYDAY, None, CLOCKS), HEAD)


SHEETS: Mapping[str, Callable[[], Sheet]] = {
    "scored": scored,
    "unscored": unscored,
    "changed": changed,
    "empty": empty,
    "hostile": hostile,
    "traced": traced,
}


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
