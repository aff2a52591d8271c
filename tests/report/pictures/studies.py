"""Studies in memory for the map and the progress picture, one for each shape that they take."""

import random
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from planner import Study
from planner.domain.event import Event, Kind
from planner.history import History
from planner.replay import fold

CLOCK = {
    "name": "core_clock",
    "group": "core",
    "unit": "MHz",
    "low": 4800,
    "high": 5600,
    "step": 25,
    "stock": 5000,
    "everyday": 5350,
    "own_risk": 5450,
    "hard_stop": 5500,
}
VOLTS = {
    "name": "core_voltage",
    "group": "core",
    "unit": "V",
    "low": 1.0,
    "high": 1.4,
    "step": 0.01,
    "stock": 1.2,
    "harder": "down",
    "supports": ["core_clock"],
    "everyday": 1.25,
    "own_risk": 1.32,
    "hard_stop": 1.35,
}
DELAY = {
    "name": "read_delay",
    "unit": "clocks",
    "low": 28,
    "high": 44,
    "step": 1,
    "stock": 40,
    "harder": "down",
}
GEAR = {"name": "gear", "harder": "choice", "choices": [1, 2], "stock": 1}


def new(*knobs: Mapping[str, Any], tables: Mapping[str, Any] | None = None, **goal: Any) -> Study:
    """A study of the first knob, two workloads, nothing run yet."""
    return Study.create(
        {
            "study": {"name": "bench", "knob": knobs[0]["name"]} | goal,
            "knob": list(knobs),
            "workload": [{"name": "long sums", "minutes": 10}, {"name": "glance", "minutes": 2}],
            **(tables or {}),
        }
    )


def told(made: Study, outcome: str, clock: float, volts: float = 1.2, **facts: Any) -> None:
    """Record a run of one's own at a clock and a voltage."""
    made.record(outcome, settings={"core_clock": clock, "core_voltage": volts}, **facts)


def _evening(**goal: Any) -> Study:
    """Every ending, a run between two values, others aside, a proposal pending."""
    made = new(CLOCK, VOLTS, DELAY, **goal)
    told(made, "pass", 5000, score=2100, minutes=12)
    told(made, "crash", 5300, failed_after_s=40)
    told(made, "pass", 5150, score=2180.5)
    made.changed("firmware 7")
    told(made, "pass", 5250, 1.25, score=2230, capped="power")
    told(made, "errors", 5225, errors=3, score=2190)
    told(made, "stopped", 5175, run_minutes=4)
    told(made, "no-start", 5450, 1.3)
    made.accept_risk("core_voltage", 1.3)
    told(made, "pass", 5375, 1.3, score=2290)
    told(made, "power-off", 5375, 1.3)
    told(made, "wrong-result", 5200)
    told(made, "void", 5100)
    told(made, "pass", 5100, actual={"core_clock": 5110})
    made.record("pass", settings={"core_clock": 5150, "core_voltage": 1.2, "read_delay": 36})
    made.record("crash", settings={"core_clock": 5150, "core_voltage": 1.2, "read_delay": 30})
    made.record("pass", settings={"core_clock": 5150, "core_voltage": 1.2, "read_delay": 40})
    told(made, "pass", 5150, workload="glance", score=9)
    made.next()
    return made


def _down(**goal: Any) -> Study:
    made = new(DELAY | {"everyday": 42}, {**DELAY, "name": "write_delay"}, **goal)
    for delay, other, outcome in [
        (40, 40, "pass"), (43, 40, "pass"), (36, 40, "pass"), (34, 40, "crash"),
        (36, 36, "crash"), (38, 36, "pass"), (35, 40, "pass"), (35, 40, "crash"),
    ]:  # fmt: skip
        made.record(outcome, settings={"read_delay": delay, "write_delay": other})
    return made


def _derived(**goal: Any) -> Study:
    ratio = {"name": "ratio", "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 40}
    base = {"name": "base", "unit": "MHz", "low": 95, "high": 110, "step": 1, "stock": 100}
    core: dict[str, Any] = {"name": "core", "unit": "MHz", "product": ["base", "ratio"]}
    core |= {"everyday": 4600, "own_risk": 4800}
    made = new(ratio, base, tables={"derived": [core]}, **goal)
    for r, b, outcome in [
        (40, 100, "pass"),
        (45, 101, "pass"),
        (46, 104, "crash"),
        (43, 98, "pass"),
    ]:
        made.record(outcome, settings={"ratio": r, "base": b})
    return made


def _choice(**goal: Any) -> Study:
    clock = {"name": "clock", "unit": "GHz", "low": 3, "high": 3.2, "step": 0.2, "stock": 3}
    made = new(clock, GEAR, **goal)
    for outcome, gear, value in [
        ("pass", 1, 3),
        ("pass", 1, 3.2),
        ("crash", 2, 3.2),
        ("pass", 2, 3),
    ]:
        made.record(outcome, settings={"gear": gear, "clock": value})
    return made


def _long_names(**goal: Any) -> Study:
    name, other = (
        "ratio_of_the_second_cluster_at_full_load",
        "voltage_of_the_second_cluster_under_load",
    )
    ratio = {"name": name, "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 40}
    made = new(
        ratio | {"everyday": 52, "own_risk": 54, "hard_stop": 56},
        {**VOLTS, "name": other, "supports": [name]},
        *({**DELAY, "name": f"delay_{n}_of_the_secondary_set_of_timings"} for n in range(4)),
        **{"name": "a $ewer and a $oup: the night when all was tried twice over"} | goal,
    )
    for value, outcome in [(44, "pass"), (50, "crash"), (47, "pass"), (53, "crash"), (48, "pass")]:
        facts = {"score": 1e6 + value} if outcome == "pass" else {}
        made.record(outcome, settings={name: value, other: 1.2}, **facts)
        made.changed(f"the firmware of a very long name indeed, number {value} of its kind")
    made.record("pass", settings={name: 45, other: 1.16})
    return made


def _closed(**goal: Any) -> Study:
    made = new(CLOCK, VOLTS, **goal)
    told(made, "pass", 5000)
    told(made, "crash", 5200, 1.1)
    made.close("the coffee is cold")
    return made


STUDIES: Mapping[str, Callable[..., Study]] = {
    "before the first run": lambda **goal: new(CLOCK, VOLTS, **{"along": "core_voltage"} | goal),
    "one run": lambda **goal: _with_runs(1, **goal),
    "an evening": _evening,
    "down": _down,
    "derived": _derived,
    "choice": _choice,
    "long names": _long_names,
    "closed": _closed,
    "forty runs": lambda **goal: _with_runs(40, **goal),
}


def _with_runs(count: int, **goal: Any) -> Study:
    made, draws = new(CLOCK, VOLTS, **{"along": "core_voltage"} | goal), random.Random(1)
    for _ in range(count):
        volts = draws.choice([1.1, 1.15, 1.2, 1.2, 1.2, 1.25, 1.3])
        near = 5200 + 2500 * (volts - 1.2) + draws.choice([-100, -50, -25, 0, 25, 50, 100])
        outcome = "pass" if near + draws.gauss(0, 15) < 5200 + 2500 * (volts - 1.2) else "crash"
        told(made, outcome, 25 * round(near / 25), volts)
    return made


@cache
def history(name: str, **goal: Any) -> History:
    """What the study of that name tells; `goal`: further keys of its `[study]` table."""
    return STUDIES[name](**goal).history


@cache
def crowd(runs: int, across: int, up: int, **goal: Any) -> History:
    """Many runs of every ending over a grid of so many values, folded from entries."""
    draws = random.Random(5)
    clock = {**CLOCK, "low": 4800, "high": 4800 + 25 * (across - 1)}
    volts = {**VOLTS, "low": 1.0, "high": round(1 + 0.01 * (up - 1), 2)}
    volts |= {"stock": round(1 + 0.01 * (up // 3), 2)}
    for knob, low, step, size in ((clock, 4800, 25, across), (volts, 1.0, 0.01, up)):
        shares = (("everyday", 0.7), ("own_risk", 0.8), ("hard_stop", 0.93))
        knob |= {name: round(low + step * int(size * share), 2) for name, share in shares}
    made = new(clock, volts, DELAY, **goal).history.definition.text
    bodies: list[tuple[Kind, dict[str, Any]]] = [(Kind.DEFINED, {"text": made})]
    for number in range(1, runs + 1):
        right, above = draws.randrange(across), draws.randrange(up)
        holds = right / across < 0.35 + 0.5 * above / up + draws.gauss(0, 0.05)
        failed = draws.choice(["crash", "errors", "no-start", "power-off", "wrong-result"])
        settings = {"core_clock": 4800.0 + 25 * right, "core_voltage": round(1 + 0.01 * above, 2)}
        settings |= {"read_delay": draws.choice([40.0] * 9 + [36.0])}
        body = {"run": number, "outcome": "pass" if holds else failed, "settings": settings}
        body |= {"workload": "long sums", "run_minutes": 10.0, "minutes": draws.uniform(9, 14)}
        bodies.append((Kind.RUN, body | ({"score": draws.gauss(2000, 50)} if holds else {})))
    return fold(
        [Event(n, "", "left", f"{n:x}", kind, body) for n, (kind, body) in enumerate(bodies, 1)]
    )
