"""Studies of every aim with many runs on record, written through the ledger itself."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

from planner import Study
from planner.domain.event import Event, Kind
from planner.store import FileLedger

AIMS = {
    "edge": {"knob": "clock"},
    "frontier": {"aim": "frontier", "knob": "clock", "along": "volts"},
    "peak": {"aim": "peak"},
}
EDGE_MHZ, MHZ_PER_V = 5240, 1000


def definition(aim: str) -> dict[str, Any]:
    """Three knobs, a scored workload, a reading."""
    return {
        "study": {"name": f"page {aim}", "minutes": 40_000, **AIMS[aim]},
        "group": [{"name": "core"}, {"name": "memory"}],
        "knob": [
            {"name": "clock", "unit": "MHz", "group": "core", "low": 4800, "high": 5600,
             "step": 25, "stock": 4900},
            {"name": "volts", "unit": "V", "group": "core", "low": 1.0, "high": 1.3,
             "step": 0.025, "stock": 1.2, "harder": "down", "supports": ["clock"],
             "everyday": 1.3},
            {"name": "latency", "unit": "clk", "group": "memory", "low": 28, "high": 40,
             "step": 1, "stock": 36, "harder": "down"},
        ],
        "reading": [{"name": "hotspot", "unit": "C", "stop": 95}],
        "workload": [{"name": "loop", "minutes": 5, "scored": True}],
    }  # fmt: skip


def make_study(folder: Path, aim: str, runs: int) -> Path:
    """A study's folder with so many own runs, seed 1; reopened so that it goes on asking."""
    study = Study.create(definition(aim), folder)
    ledger = FileLedger(folder / "ledger.jsonl")
    ledger.read()
    draws = random.Random(1)
    for number in range(1, runs + 1):
        seq = ledger.head.seq + 1
        body = _run(number, draws)
        stamp = "2026-01-01T00:00:00Z"
        ledger.append(Event(seq, stamp, "bench", f"{seq:016x}", Kind.RUN, body))
    study.reopen()
    return folder


def _run(number: int, draws: random.Random) -> dict[str, object]:
    clock, volts = 4800.0 + 25 * draws.randrange(33), round(1.1 + 0.025 * draws.randrange(9), 3)
    latency = 36.0 - draws.randrange(4)
    edge = EDGE_MHZ + MHZ_PER_V * (volts - 1.2)
    holds = clock + draws.gauss(0, 8) < edge
    body: dict[str, object] = {
        "run": number,
        "outcome": "pass" if holds else "crash",
        "settings": {"clock": clock, "volts": volts, "latency": latency},
        "workload": "loop",
        "run_minutes": 5.0,
        "minutes": 5.6,
        "readings": {"hotspot": 81.0},
    }
    if not holds:
        return body | {"failed_after_s": round(draws.uniform(1, 60), 1)}
    return body | {"score": round(clock / 2 - latency + draws.gauss(0, 2), 1)}
