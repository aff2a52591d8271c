"""Frontier studies in memory, one for each shape that their picture takes."""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any

from planner import Study
from planner.models.frontier.search import frontier_search
from planner.report.pictures.frontier.data import FrontierPicture, frontier_picture
from tests.report.pictures import studies

CLOCK = {"name": "clock", "unit": "MHz", "low": 4400, "high": 5400, "step": 25, "stock": 4600}
VOLTS = {
    "name": "volts",
    "unit": "V",
    "low": 1.0,
    "high": 1.4,
    "step": 0.01,
    "stock": 1.1,
    "harder": "down",
    "supports": ["clock"],
    "everyday": 1.28,
    "own_risk": 1.34,
    "hard_stop": 1.37,
}
STATIONS = (1.0, 1.04, 1.08, 1.12, 1.16, 1.2, 1.24, 1.28)


def new(
    knob: Mapping[str, Any], along: Mapping[str, Any], *others: Mapping[str, Any], **tables: Any
) -> Study:
    """A study of one knob along another, nothing run yet."""
    goal = {"name": "ridge", "aim": "frontier", "knob": knob["name"], "along": along["name"]}
    return Study.create(
        {
            "study": goal | tables.pop("study", {}),
            "rig": {"reboot_minutes": 3},
            "knob": [knob, along, *others],
            "workload": [{"name": "loop", "minutes": 5}, {"name": "glance", "minutes": 1}],
            **tables,
        }
    )


def holds_to(volts: float) -> float:
    """The clock up to which the part holds: more helps less, and bends back past 1.24 V."""
    return 4450 + 3600 * (volts - 1) - 5000 * max(0.0, volts - 1.2) ** 1.2


def told(made: Study, outcome: str, clock: float, volts: float, **facts: Any) -> None:
    """Record a run of one's own."""
    names = [made.history.definition.goal.knob, made.history.definition.goal.along]
    values = (clock, volts) if "clock" in names[0] else (volts, clock)
    settings = dict(zip(names, values, strict=True))
    made.record(outcome, settings=settings | facts.pop("others", {}), **facts)


def around(made: Study, stations: Iterable[float] = STATIONS, times: int = 3) -> Study:
    """Runs above and below the edge at each station, the nearest below several times."""
    for volts in stations:
        edge = holds_to(volts)
        under = 4400 + 25 * int((edge - 4400) // 25)
        for clock in (under + 150, under - 100, under + 50, under, under + 25):
            told(made, "pass" if clock <= edge else "crash", clock, volts)
        for _ in range(times - 1):
            told(made, "pass", under, volts)
    return made


def _all_endings() -> Study:
    """Every ending at one place, others aside, runs past the hard stops, between two values."""
    ceilings = {"everyday": 5200, "own_risk": 5300, "hard_stop": 5350}
    delay = {"name": "delay", "low": 28, "high": 40, "step": 1, "stock": 36, "harder": "down"}
    made = around(new(CLOCK | ceilings, VOLTS, delay))
    for outcome in ("crash", "no-start", "power-off", "wrong-result", "pass", "void"):
        told(made, outcome, 5000, 1.16)
    told(made, "errors", 5000, 1.16, errors=4)
    told(made, "stopped", 4900, 1.16, run_minutes=3)
    told(made, "pass", 4800, 1.16, others={"delay": 32})
    told(made, "crash", 4800, 1.16, others={"delay": 30})
    told(made, "pass", 4900, 1.2, workload="glance")
    told(made, "pass", 4500, 1.2, actual={"clock": 4510})
    told(made, "crash", 5375, 1.24)
    told(made, "crash", 5200, 1.38)
    told(made, "crash", 5250, 1.32)
    made.next()
    return made


def _accepted() -> Study:
    """The edge still rises above the everyday ceiling, and the risk was accepted."""
    made = new(CLOCK, VOLTS | {"everyday": 1.16})
    made.accept_risk("volts", 1.3)
    around(made, (1.0, 1.04, 1.08, 1.12, 1.16, 1.2, 1.24))
    made.next()
    return made


def _downwards() -> Study:
    """The least voltage for each clock."""
    volts = VOLTS | {"supports": []}
    made = new(volts, CLOCK | {"stock": 4600, "everyday": 5100, "own_risk": 5250})
    for clock in range(4500, 5101, 100):
        least = next(v / 100 for v in range(100, 141) if holds_to(v / 100) >= clock)
        for steps in (-6, 4, -2, 0, -1, 0, 0):
            value = round(least + steps / 100, 2)
            if 1.0 <= value <= 1.28:
                told(made, "pass" if steps >= 0 else "crash", clock, value)
    return made


def _derived() -> Study:
    """The ceilings stand on the product of both knobs."""
    ratio = {"name": "ratio", "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 40}
    base = {"name": "base", "unit": "MHz", "low": 95, "high": 110, "step": 1, "stock": 100}
    core: dict[str, Any] = {"name": "core", "unit": "MHz", "product": ["base", "ratio"]}
    core |= {"everyday": 4600, "own_risk": 4800, "hard_stop": 4900}
    made = new(ratio, base, derived=[core])
    for r, b, outcome in [
        (44, 100, "pass"),
        (48, 96, "pass"),
        (46, 104, "crash"),
        (40, 108, "pass"),
    ]:
        made.record(outcome, settings={"ratio": r, "base": b})
    return made


def _long_names() -> Study:
    name, other = (
        "clock_of_the_second_cluster_at_full_load",
        "voltage_of_the_second_cluster_under_load",
    )
    ceilings = {"everyday": 5150, "own_risk": 5225, "hard_stop": 5300}
    made = new(
        CLOCK | ceilings | {"name": name},
        VOLTS | {"name": other, "supports": [name]},
        *(
            {"name": f"delay_{n}_of_the_secondary_set", "low": 1, "high": 9, "step": 1, "stock": 5}
            for n in range(5)
        ),
        study={"name": "a $ewer and a $oup: the night when all was tried twice over"},
    )
    return around(made)


def _crowded() -> Study:
    """Runs at every voltage and at fine steps of the clock."""
    made = new(CLOCK | {"step": 1}, VOLTS | {"low": 1.0, "step": 0.005})
    for n in range(320):
        volts = round(1 + 0.005 * (n % 58), 3)
        clock = round(holds_to(volts)) + (n * 37) % 60 - 30
        told(made, "pass" if clock <= holds_to(volts) else "crash", clock, volts)
    return made


def _one_station() -> Study:
    made = new(CLOCK, VOLTS | {"low": 1.1, "high": 1.11, "stock": 1.1, "everyday": 1.1})
    for clock, outcome in [(4600, "pass"), (4900, "crash"), (4750, "pass")]:
        told(made, outcome, clock, 1.1)
    return made


def _nothing_holds() -> Study:
    made = new(CLOCK, VOLTS)
    for volts in STATIONS:
        for clock in (4600, 4400, 4400, 4400):
            told(made, "crash", clock, volts)
    return made


STUDIES: Mapping[str, Callable[[], Study]] = {
    "before the first run": lambda: new(CLOCK, VOLTS),
    "one pass": lambda: _one_run("pass"),
    "one crash": lambda: _one_run("crash"),
    "an evening": lambda: around(new(CLOCK, VOLTS)),
    "all endings": _all_endings,
    "own risk accepted": _accepted,
    "downwards": _downwards,
    "derived": _derived,
    "long names": _long_names,
    "crowded": _crowded,
    "one station": _one_station,
    "nothing holds": _nothing_holds,
    "no ceilings": lambda: around(
        new(CLOCK, {k: v for k, v in VOLTS.items() if "_" not in k} | {"everyday": 1.4})
    ),
}


def _one_run(outcome: str) -> Study:
    made = new(CLOCK, VOLTS)
    told(made, outcome, 4800, 1.16)
    return made


@cache
def drawn(name: str) -> FrontierPicture:
    """The picture of one of the studies above."""
    search = frontier_search(STUDIES[name]().history)
    assert search is not None, "both knobs have a range"
    return frontier_picture(search)


@cache
def crowd(runs: int) -> FrontierPicture:
    """Many runs of every ending over 60 by 60 values."""
    told_of = studies.crowd(runs, 60, 60, aim="frontier", along="core_voltage")
    search = frontier_search(told_of)
    assert search is not None, "both knobs have a range"
    return frontier_picture(search)
