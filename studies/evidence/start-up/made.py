"""A study with many runs on record, written through the ledger itself."""

from __future__ import annotations

import random
import sys
from pathlib import Path

from planner import Study
from planner.domain.event import Event, Kind
from planner.store import FileLedger

DEFINITION = {
    "study": {"name": "start-up", "knob": "clock"},
    "group": [{"name": "core"}, {"name": "memory"}],
    "knob": [
        {"name": "clock", "unit": "MHz", "group": "core", "low": 4800, "high": 5600, "step": 25,
         "stock": 4900},
        {"name": "volts", "unit": "V", "group": "core", "low": 1.0, "high": 1.4, "step": 0.005,
         "stock": 1.2, "harder": "down", "supports": ["clock"]},
        {"name": "latency", "unit": "clk", "group": "memory", "low": 28, "high": 40, "step": 1,
         "stock": 36, "harder": "down"},
    ],
    "reading": [{"name": "room", "unit": "C"}, {"name": "hotspot", "unit": "C", "stop": 95}],
    "workload": [{"name": "loop", "minutes": 5}],
}  # fmt: skip
EDGE_MHZ = 5240


def make_study(folder: Path, runs: int) -> Path:
    """A study folder with so many answered proposals, reopened so that it goes on asking."""
    study = Study.create(DEFINITION, folder)
    ledger = FileLedger(folder / "ledger.jsonl")
    ledger.read()
    draws = random.Random(1)
    for number in range(1, runs + 1):
        value = 4800.0 + 25 * draws.randrange(33)
        _write(ledger, Kind.PROPOSED, _asked(number, value))
        _write(ledger, Kind.RUN, _answered(number, value, draws))
    study.reopen()
    return folder


def _write(ledger: FileLedger, kind: Kind, body: dict[str, object]) -> None:
    seq = ledger.head.seq + 1
    ledger.append(Event(seq, "2026-01-01T00:00:00Z", "bench", f"{seq:016x}", kind, body))


def _asked(number: int, value: float) -> dict[str, object]:
    return {
        "run": number,
        "settings": {"clock": value, "volts": 1.2, "latency": 36.0},
        "workload": "loop",
        "run_minutes": 5.0,
        "start_when": "",
        "reason": "if it holds, 5200 MHz is left behind; the edge lies 9 to 1 between 5150 MHz"
        " and 5300 MHz",
        "pass_probability": 0.5,
        "minutes": 6.1,
        "at_own_risk": [],
        "strategy": "bayes",
        "boot_mark": "",
    }


def _answered(number: int, value: float, draws: random.Random) -> dict[str, object]:
    holds = value + draws.gauss(0, 8) < EDGE_MHZ
    body: dict[str, object] = {
        "run": number,
        "outcome": "pass" if holds else "crash",
        "settings": {"clock": value, "volts": 1.2, "latency": 36.0},
        "workload": "loop",
        "run_minutes": 5.0,
        "minutes": 5.6,
        "readings": {"room": 22.0, "hotspot": 81.0},
    }
    return body if holds else body | {"failed_after_s": round(draws.uniform(1, 60), 1)}


if __name__ == "__main__":
    make_study(Path(sys.argv[1]), int(sys.argv[2]))
