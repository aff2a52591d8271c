"""A peak study with so many knobs and runs on record, written through the ledger itself."""

from __future__ import annotations

import math
import random
import sys
from pathlib import Path
from typing import Any

from planner import Study
from planner.domain.event import Event, Kind
from planner.store import FileLedger

_IN_GROUP = 4
"""Knobs of a group: three clocks and the voltage that supports them."""
_STEPS = 30


def definition(knobs: int) -> dict[str, Any]:
    """Tables of the study."""
    tables = [_knob(i) for i in range(knobs)]
    groups = list(dict.fromkeys(knob["group"] for knob in tables))
    for group in groups:
        clocks = [k["name"] for k in tables if k["group"] == group and k["unit"] == "MHz"]
        for knob in tables:
            if knob["group"] == group and knob["unit"] == "V":
                knob |= {"harder": "down", "supports": clocks, "everyday": 1.3}
    return {
        "study": {"name": "cost", "aim": "peak", "seed": 1},
        "group": [{"name": group} for group in groups],
        "knob": tables,
        "reading": [{"name": "room", "unit": "C"}],
        "workload": [{"name": "loop", "minutes": 3, "subscores": ["one", "two", "three"]}],
    }


def _knob(i: int) -> dict[str, Any]:
    group = f"group{i // _IN_GROUP}"
    if i % _IN_GROUP == _IN_GROUP - 1:
        reach = {"low": 1.1, "high": 1.4, "step": 0.01, "stock": 1.2}
        return {"name": f"volts{i}", "group": group, "unit": "V", **reach}
    where = "live" if i % _IN_GROUP == 2 else "firmware"
    reach = {"low": 4700, "high": 4800 + 25 * _STEPS, "step": 25, "stock": 4800}
    return {"name": f"clock{i}", "group": group, "unit": "MHz", "where": where, **reach}


def make_study(folder: Path, knobs: int, runs: int) -> None:
    """A study folder whose runs stand about the edges, nearly all at settings of their own."""
    tables = definition(knobs)
    study = Study.create(tables, folder)
    ledger = FileLedger(folder / "ledger.jsonl")
    ledger.read()
    draws = random.Random(1)
    edges = _edges(tables, draws)
    for number in range(1, runs + 1):
        steps = {n: 0.0 if number == 1 else edge + draws.gauss(-4, 3) for n, edge in edges.items()}
        steps = {n: min(max(round(s), 0), _STEPS) for n, s in steps.items()}
        lifted = {k["name"]: draws.randrange(11) for k in tables["knob"] if k["unit"] == "V"}
        body = _answered(number, steps, lifted, edges, draws)
        seq = ledger.head.seq + 1
        event = Event(seq, "2026-01-01T00:00:00Z", "bench", f"{seq:016x}", Kind.RUN, body)
        ledger.append(event)
    study.reopen()


def record(folder: Path) -> None:
    """Record how the pending run of such a study ended."""
    study = Study.open(folder)
    tables, asked = definition(len(study.history.definition.knobs)), study.pending
    if asked is None:
        raise SystemExit(f"{folder}: nothing left to propose")
    edges, settings = _edges(tables, random.Random(1)), study.history.definition.stock
    settings = {**settings, **asked.settings}
    steps = {name: (float(settings[name]) - 4800) / 25 for name in edges}
    ended = _answered(asked.number, steps, {}, edges, random.Random(asked.number))
    facts = ("failed_after_s", "score", "subscores", "readings", "minutes")
    study.record(str(ended["outcome"]), **{key: ended[key] for key in facts if key in ended})


def _edges(tables: dict[str, Any], draws: random.Random) -> dict[str, float]:
    """The step at which each clock fails."""
    return {k["name"]: draws.uniform(8, 22) for k in tables["knob"] if k["unit"] == "MHz"}


def _answered(
    number: int,
    steps: dict[str, int],
    lifted: dict[str, int],
    edges: dict[str, float],
    draws: random.Random,
) -> dict[str, object]:
    hazard = sum(math.exp((s + draws.gauss(0, 0.5) - edges[n]) / 0.7) for n, s in steps.items())
    fails = draws.expovariate(1.0) / max(hazard, 1e-9)
    settings = {n: 4800.0 + 25 * s for n, s in steps.items()}
    settings |= {n: round(1.2 + 0.01 * s, 2) for n, s in lifted.items()}
    body: dict[str, object] = {
        "run": number,
        "outcome": "pass" if fails > 1 else "crash",
        "settings": settings,
        "workload": "loop",
        "run_minutes": 3.0,
        "minutes": 6.0,
        "readings": {"room": round(21 + draws.random() * 3, 1)},
    }
    if fails <= 1:
        return body | {"failed_after_s": round(1 + 179 * fails, 1)}
    gain = sum(0.004 * s for s in steps.values())
    parts = {n: 100 * math.exp(gain + draws.gauss(0, 0.002)) for n in ("one", "two", "three")}
    return body | {"score": sum(parts.values()) / 3, "subscores": parts}


if __name__ == "__main__":
    make_study(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
