"""Studies in memory, one for each shape that the edge picture takes."""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from planner import Study
from planner.domain.knob import Setting
from planner.models.edge_search import edge_search
from planner.report.pictures.edge.data import EdgePicture, edge_picture

Told = list[tuple[str, float]]

CLOCK = {"name": "core_clock", "unit": "MHz", "low": 4600, "high": 5600, "step": 25, "stock": 4800}
CEILINGS = {"everyday": 5350, "own_risk": 5450, "hard_stop": 5500}
TIMING = {
    "name": "tRFC",
    "unit": "clocks",
    "low": 300,
    "high": 700,
    "step": 10,
    "stock": 560,
    "harder": "down",
}
VOLTS = {
    "name": "core_v",
    "unit": "mV",
    "low": 900,
    "high": 1400,
    "step": 5,
    "stock": 1150,
    "harder": "down",
    "everyday": 1250,
    "own_risk": 1320,
    "hard_stop": 1350,
}


def study(knob: Mapping[str, Any], told: Told, *others: Mapping[str, Any], **words: Any) -> Study:
    """A study of `knob` with the runs told: outcome and value."""
    made = Study.create(
        {
            "study": {"name": "bench", "knob": knob["name"]} | words,
            "knob": [knob, *others],
            "workload": [{"name": "long sums", "minutes": 10}],
        }
    )
    for outcome, value in told:
        settings: Setting = {knob["name"]: value}
        made.record(outcome, settings=settings)
    return made


def picture(made: Study) -> EdgePicture:
    """Its picture."""
    search = edge_search(made.history)
    assert search is not None
    return edge_picture(search)


EVENING: Told = [
    ("pass", 4800),
    ("crash", 5325),
    ("pass", 5200),
    ("pass", 5250),
    ("crash", 5275),
    ("crash", 5275),
    ("pass", 5225),
    ("crash", 5225),
    *[("pass", 5200)] * 11,
]


def _accepted() -> Study:
    made = study(CLOCK | CEILINGS, [("pass", v) for v in (5200, 5300, 5350, 5350, 5350)])
    made.accept_risk("core_clock", 5400)
    for value in (5375, 5400, 5400):
        made.record("pass", settings={"core_clock": value})
    return made


def _timing() -> Study:
    made = study(TIMING, [("pass", 560), ("pass", 440), ("crash", 420), ("pass", 430)])
    made.record("errors", settings={"tRFC": 430}, errors=4)
    made.record("pass", settings={"tRFC": 450}, run_minutes=6)
    made.record("no-start", settings={"tRFC": 410})
    return made


def _crowded() -> Study:
    fine = CLOCK | {"step": 1}
    return study(fine, [("pass" if v < 5200 else "crash", v) for v in range(5000, 5400, 3)] * 2)


def _long_names() -> Study:
    name = "ratio_of_the_second_cluster_at_full_load"
    others = [{**TIMING, "name": f"timing_{n}_of_the_secondary_set"} for n in range(4)]
    words = {"name": "a $ewer and a $oup: the night when all was tried twice over"}
    return study(
        {"name": name, "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 40, "everyday": 52},
        [("pass", 45), ("crash", 51), ("pass", 48)],
        *others,
        **words,
    )


STUDIES: Mapping[str, Callable[[], Study]] = {
    "before the first run": lambda: study(CLOCK | CEILINGS, []),
    "one pass": lambda: study(CLOCK | CEILINGS, [("pass", 5225)]),
    "one crash": lambda: study(CLOCK | CEILINGS, [("crash", 4900)]),
    "an evening": lambda: study(CLOCK | CEILINGS, EVENING),
    "no ceilings": lambda: study(CLOCK, EVENING),
    "own risk accepted": _accepted,
    "a timing": _timing,
    "an undervolt": lambda: study(VOLTS, [("pass", 1150), ("pass", 1040), ("crash", 1000)]),
    "nothing holds": lambda: study(VOLTS, [("crash", v) for v in (1250, 1250, 1150, 1250)]),
    "crowded": _crowded,
    "long names": _long_names,
}


@cache
def drawn(name: str) -> EdgePicture:
    """The picture of one of the studies above."""
    return picture(STUDIES[name]())
