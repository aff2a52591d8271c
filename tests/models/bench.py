"""One-knob studies whose runs a test makes up, and their ledgers read as the text that they are."""

import json
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from planner import Study

CLOCK = {"name": "clock", "low": 0, "high": 20, "step": 1, "stock": 4, "where": "live"}
CLOCK |= {"change_minutes": 0}


OFTEN = 300
"""A study that asks for more runs than this never ends."""


def definition(
    *knobs: dict[str, Any], workload: dict[str, Any] | None = None, **study: Any
) -> dict[str, Any]:
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


def drive(study: Study, holds: Callable[[float, int], bool]) -> list[tuple[float, bool, str]]:
    """Ask and answer until the planner closes: value, whether it held, what was to be awaited.

    `holds` is given the value and how often it ran before.
    """
    ran: list[tuple[float, bool, str]] = []
    times: Counter[float] = Counter()
    while (proposal := study.next()) is not None:
        assert len(ran) < OFTEN
        value = float(proposal.settings["clock"])
        held, boot = holds(value, times[value]), {"boot": "cold"} if proposal.start_when else {}
        study.record("pass" if held else "crash", number=proposal.number, **boot)
        times[value] += 1
        ran.append((value, held, proposal.start_when))
    return ran


def entries(folder: Path, kind: str) -> list[dict[str, Any]]:
    """Bodies of the ledger's entries of one kind, read as JSON lines."""
    text = (folder / "ledger.jsonl").read_text(encoding="utf-8")
    lines = [json.loads(line) for line in text.splitlines()]
    return [line["body"] for line in lines if line["kind"] == kind]
