"""One-knob studies whose runs a test makes up, and their ledgers read as the text that they are."""

import json
from pathlib import Path
from typing import Any

from planner import Study

CLOCK = {"name": "clock", "low": 0, "high": 20, "step": 1, "stock": 4, "where": "live"}
CLOCK |= {"change_minutes": 0}


def definition(*knobs: dict[str, Any], workload: dict[str, Any] | None = None, **study: Any):
    """Tables of a study of `clock` 0 to 20; `study` overrides its [study] table."""
    return {
        "study": {"name": "bench", "aim": "edge", "knob": "clock", **study},
        "rig": {"reboot_minutes": 4},
        "knob": [CLOCK, *knobs],
        "workload": [{"name": "loop", "minutes": 5, **(workload or {})}],
    }


def run_all(study: Study, runs: str, **facts: Any) -> None:
    """Own runs in short form: `7+ 12-` is a pass at 7, then a crash at 12; `7+*3` three passes."""
    for word in runs.split():
        result, _, times = word.partition("*")
        for _ in range(int(times or 1)):
            outcome = "pass" if result.endswith("+") else "crash"
            study.record(outcome, settings={"clock": float(result[:-1])}, **facts)


def studied(runs: str, **study: Any) -> Study:
    """A study in memory with these own runs."""
    made = Study.create(definition(**study))
    run_all(made, runs)
    return made


def entries(folder: Path, kind: str) -> list[dict[str, Any]]:
    """Bodies of the ledger's entries of one kind, read as JSON lines."""
    text = (folder / "ledger.jsonl").read_text(encoding="utf-8")
    lines = [json.loads(line) for line in text.splitlines()]
    return [line["body"] for line in lines if line["kind"] == kind]
