"""Studies for tests, and what of a proposal or run must not depend on how it came about."""

import dataclasses
from pathlib import Path
from typing import Any

from planner import Study
from planner.domain.event import Event
from planner.domain.knob import Setting
from planner.domain.run import Proposal, Run
from planner.history import History
from planner.store import definition_text
from tests.domain.makers import clock, tables, volts

TIMING = {
    "name": "timing",
    "group": "memory",
    "unit": "clocks",
    "low": 30,
    "high": 50,
    "step": 1,
    "stock": 44,
    "harder": "down",
    "change_minutes": 0.5,
}
READINGS = [{"name": "hot", "unit": "C", "stop": 95}, {"name": "room", "unit": "C"}]
NOT_TOLD = ("number", "bench", "boot_mark", "time", "entry")


def bench_tables(**study: Any) -> dict[str, Any]:
    """A live clock that is searched, a voltage that supports it, a memory timing."""
    knobs = [
        clock(group="core", where="live"),
        volts(group="core", supports=["clock"], everyday=1.25, own_risk=1.3),
        TIMING,
    ]
    return tables(*knobs, study=study, reading=READINGS, rig={"reboot_minutes": 4})


def on_disk(folder: Path, given: dict[str, Any] | None = None) -> Study:
    """A new study in `folder`."""
    return Study.create(given or bench_tables(), folder)


def write(folder: Path, given: dict[str, Any]) -> None:
    """Edit the study's file as a person would."""
    (folder / "study.toml").write_text(definition_text(given), encoding="utf-8")


def events_of(study: Study) -> list[Event]:
    """All entries of a study's ledger."""
    return list(study._place.ledger.read())


def look(proposal: Proposal | None) -> dict[str, Any] | None:
    """All that a proposal says but number, bench, boot and time."""
    if proposal is None:
        return None
    told = {**dataclasses.asdict(proposal), "terms": proposal.terms.body}
    return {k: v for k, v in told.items() if k not in NOT_TOLD}


def facts(run: Run) -> dict[str, Any]:
    """All of a run but what tells how it was entered."""
    return {k: v for k, v in run._asdict().items() if k not in ("amended", "time", "asked")}


def known(history: History) -> dict[str, Any]:
    """All of a history but times and how many entries it took to tell."""
    told = {field.name: getattr(history, field.name) for field in dataclasses.fields(history)}
    pending = {bench: look(proposal) for bench, proposal in history.pending.items()}
    told |= {"runs": [facts(run) for run in history.runs], "pending": pending}
    return {name: value for name, value in told.items() if name != "told"}


def holding(highest: float) -> Any:
    """What a machine that holds up to `highest` MHz says of a setting."""

    def outcome(setting: Setting) -> str:
        return "pass" if float(setting["clock"]) <= highest else "crash"

    return outcome
