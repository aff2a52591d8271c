"""Random definitions with ceilings everywhere, and random settings near what they forbid."""

from typing import Any

import numpy as np

from tests.strategies.judge import Setting, Tables, exact, numbers_of

Knob = dict[str, Any]
KINDS = [  # unit, step, lowest place counted in steps, decimals
    ("MHz", 25.0, 160, 0),
    ("MHz", 0.1, 900, 1),
    ("V", 0.005, 180, 3),
    ("mV", 5.0, -40, 0),
    ("clocks", 1.0, 10, 0),
    ("x", 1.0, 30, 0),
    ("x", 0.25, 120, 2),
    ("%", 1.0, 90, 0),
]


def random_tables(rng: np.random.Generator) -> dict[str, Any]:
    """Tables for `judge`; `planner_tables` makes them fit for the planner."""
    knobs = [_ranged(rng, f"k{i}") for i in range(rng.integers(1, 5))]
    if rng.random() < 0.3:
        knobs.append(_choice(rng))
    for knob in knobs:
        others = [k["name"] for k in knobs if k is not knob and k["harder"] != "choice"]
        if others and knob["harder"] != "choice" and rng.random() < 0.25:
            knob["supports"] = [str(rng.choice(others))]
    derived = _derived(rng, knobs)
    sums = [_sum_rule(rng, knobs) for _ in range(rng.integers(0, 3))]
    readings = [{"name": "hot", "unit": "C", "stop": 90}]
    tables = {"knob": knobs, "derived": derived, "sums": sums, "reading": readings}
    _drop_own_risk_under_stock(tables)
    return tables


def planner_tables(tables: Tables, **study: Any) -> dict[str, Any]:
    """The tables as the planner takes them, rules written out."""
    rules = [
        {
            "holds": " + ".join([*(f"{f} * {n}" for f, n in r["terms"]), str(r["constant"])])
            + " <= 0",
            "kind": "hard" if r["hard"] else "note",
        }
        for r in tables["sums"]
    ]
    kept = {key: tables[key] for key in ("knob", "derived", "reading")}
    return kept | {"rule": rules, "study": study}


def _ranged(rng: np.random.Generator, name: str) -> Knob:
    unit, step, lowest, decimals = KINDS[rng.integers(len(KINDS))]
    low, count = lowest + int(rng.integers(-9, 10)), int(rng.integers(2, 24))
    at = [round((low + i) * step, decimals) for i in range(count)]
    knob = {
        "name": name,
        "unit": unit,
        "low": at[0],
        "high": at[-1],
        "step": step,
        "stock": at[rng.integers(count)],
        "harder": str(rng.choice(["up", "down"])),
        "supports": [],
        "where": str(rng.choice(["live", "firmware"])),
    }
    return knob | _ceilings(rng, at[0], at[-1] + 3 * step)


def _choice(rng: np.random.Generator) -> Knob:
    choices = ["a", "b", "c"] if rng.random() < 0.5 else [1.0, 2.0, 4.0]
    knob = {"name": "c", "unit": "", "harder": "choice", "choices": choices, "supports": []}
    knob |= {"stock": choices[rng.integers(3)]}
    return knob | (_ceilings(rng, 1.0, 4.0) if choices[0] == 1.0 else {})


def _ceilings(rng: np.random.Generator, low: float, high: float) -> dict[str, float]:
    """Any subset of the three, in order, on the steps or between them."""
    names = [n for n in ("everyday", "own_risk", "hard_stop") if rng.random() < 0.45]
    values = sorted(round(float(v), 3) for v in rng.uniform(low, high, len(names)))
    return {name: max(value, low) for name, value in zip(names, values, strict=True)}


def _derived(rng: np.random.Generator, knobs: list[Knob]) -> list[dict[str, Any]]:
    """Sums of voltages and products of a clock with a ratio, with ceilings around them."""
    by_unit: dict[str, list[Knob]] = {}
    for knob in knobs:
        if knob["harder"] != "choice":
            by_unit.setdefault("V" if knob["unit"] == "mV" else knob["unit"], []).append(knob)
    found = []
    if volts := by_unit.get("V"):
        per = {k["name"]: 1.0 if k["unit"] == "V" else 0.001 for k in volts}
        low, high = (sum(k[e] * per[k["name"]] for k in volts) for e in ("low", "high"))
        found.append({"name": "real", "unit": "V", "sum": list(per)} | _ceilings(rng, low, high))
    ratios = by_unit.get("x", []) + by_unit.get("%", [])
    if (clocks := by_unit.get("MHz")) and ratios:
        per = 0.01 if ratios[0]["unit"] == "%" else 1.0
        low, high = (clocks[0][e] * ratios[0][e] * per / 1000 for e in ("low", "high"))
        names = [clocks[0]["name"], ratios[0]["name"]]
        found.append({"name": "core", "unit": "GHz", "product": names} | _ceilings(rng, low, high))
    return found


def _drop_own_risk_under_stock(tables: Tables) -> None:
    """Where no everyday ceiling is given: such a definition has a test of its own."""
    stock = numbers_of(tables, {knob["name"]: knob["stock"] for knob in tables["knob"]})
    for noun in [*tables["knob"], *tables["derived"]]:
        if "own_risk" in noun and "everyday" not in noun and stock[noun["name"]] > noun["own_risk"]:
            del noun["own_risk"]


def _sum_rule(rng: np.random.Generator, knobs: list[Knob]) -> dict[str, Any]:
    """Over knobs in whole steps, whose sums are exact in binary too."""
    whole = [k for k in knobs if k["harder"] != "choice" and k["step"] in (25.0, 5.0, 1.0, 0.25)]
    terms = [(int(rng.integers(-3, 4)), k["name"]) for k in whole[:2]]
    middle = sum(
        f * (exact(k["low"]) + exact(k["high"])) / 2
        for (f, _), k in zip(terms, whole, strict=False)
    )
    constant = -int(middle) + int(rng.integers(-20, 21))
    return {"terms": terms, "constant": constant, "hard": bool(rng.random() < 0.6)}


def random_value(rng: np.random.Generator, knob: Knob) -> Any:
    """A value of the knob, mostly; sometimes one beside its steps or out of its range."""
    if knob["harder"] == "choice":
        return knob["choices"][rng.integers(3)] if rng.random() < 0.97 else "z"
    count = round((knob["high"] - knob["low"]) / knob["step"])
    place = (
        int(rng.integers(0, count + 1)) if rng.random() < 0.97 else int(rng.integers(-3, count + 4))
    )
    off = 0.0 if rng.random() < 0.97 else float(rng.uniform(0.001, 0.999))
    return round(knob["low"] + (place + off) * knob["step"], 6)


def random_setting(rng: np.random.Generator, tables: Tables) -> Setting:
    """A value for every knob, or very seldom not."""
    setting = {knob["name"]: random_value(rng, knob) for knob in tables["knob"]}
    odd = rng.random()
    if odd < 0.005:
        setting.pop(next(iter(setting)))
    elif odd < 0.01:
        setting["stranger"] = 1.0
    return setting


def can_have_run(tables: Tables, setting: Setting) -> bool:
    """Whether a run may be recorded there: every knob named, no unknown word, no half clock."""
    knobs = {knob["name"]: knob for knob in tables["knob"]}
    if setting.keys() != knobs.keys() or "z" in setting.values():
        return False
    return all(v % 1 == 0 for n, v in setting.items() if knobs[n]["unit"] == "clocks")
