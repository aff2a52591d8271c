"""A ledger whose chain is right and whose bodies are a stranger's: refused by entry and key."""

import json
from typing import Any

import pytest

from planner import Study
from planner.errors import LedgerDamaged
from planner.store import MemoryLedger, Place
from planner.store.lines import EMPTY
from tests.store.makers import chain_of, sealed
from tests.study.makers import bench_tables, events_of


def retold(kind: str, change: dict[str, Any]) -> Study:
    """A study whose last entry of that kind says something else, with a right chain."""
    study = Study.create(bench_tables())
    study.record("pass", settings={"clock": 4300}, readings={"hot": 70})
    study.next()
    entries = events_of(study)
    last = max(e.seq for e in entries if e.kind == kind)
    lines: list[bytes] = []
    for entry in entries:
        body = {**entry.body, **(change if entry.seq == last else {})}
        start = json.dumps(
            {
                "format": 1,
                **{name: getattr(entry, name) for name in ("seq", "time", "bench", "id", "kind")},
                "body": body,
                "prev": chain_of(lines[-1]) if lines else EMPTY.chain,
            },
            separators=(",", ":"),
        )
        lines.append(sealed(start[:-1].encode()) + b"\n")
    return Study(Place(MemoryLedger(lines), None))


def test_what_is_told_as_it_was_is_taken() -> None:
    """The way of retelling itself damages nothing."""
    assert retold("run", {}).next() is not None


@pytest.mark.parametrize(
    "change",
    [
        {"run_minutes": "10"},
        {"run_minutes": -1},
        {"minutes": [1]},
        {"minutes": 1e300},
        {"score": {}},
        {"score": True},
        {"workload": ["load"]},
        {"note": 5},
        {"readings": {"hot": "hot"}},
        {"readings": [70]},
        {"settings": {"clock": [4300]}},
        {"settings": {"clock": "4300"}},
        {"actual": {"clock": None}},
        {"actual": 5},
        {"errors": "many"},
    ],
)
def test_a_run_of_strange_facts_is_named(change: dict[str, Any]) -> None:
    """By entry and kind, as damage; nothing is reckoned with it."""
    with pytest.raises(LedgerDamaged, match=r"ledger entry 2 \(run\)"):
        retold("run", change).next()


@pytest.mark.parametrize(
    "change",
    [
        {"pass_probability": "likely"},
        {"reason": None},
        {"minutes": -3},
        {"settings": {"clock": "fast"}},
        {"settings": 5},
        {"at_own_risk": [1]},
        {"start_when": 7},
        {"terms": {"max_changes": "few"}},
        {"terms": ["clock"]},
    ],
)
def test_a_strange_proposal_is_named(change: dict[str, Any]) -> None:
    """It is refused before anyone is shown it."""
    with pytest.raises(LedgerDamaged, match=r"ledger entry 3 \(proposed\)"):
        retold("proposed", change).next()
