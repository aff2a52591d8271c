"""By what a row is known again when its file is imported once more.

A run that a planner exported is known by its number, bench and time. A row that does not say all
three is known by what it tells, and rows alike within one file are counted: a file that has grown
at its end brings in what is new. The identity is kept with the run, as its `origin`.
"""

import json
from collections import Counter
from collections.abc import Mapping
from hashlib import sha256

from planner.domain.run import Run
from planner.history import History
from planner.importing.rows import ToldRun
from planner.run_table import identity

_DIGITS = 16


def on_record(history: History) -> Mapping[str, Run]:
    """All runs by their identity, whether made here or taken in."""
    return {run.origin or identity(run.number, run.bench, run.time): run for run in history.runs}


class Identities:
    """Gives each row of one file its identity."""

    def __init__(self, label: str) -> None:
        """`label`: what tells this file from another with rows alike; empty: nothing."""
        self._label = label
        self._met: Counter[str] = Counter()

    def of(self, told: ToldRun) -> tuple[str, bool]:
        """The identity of the next row, and whether it is known by nothing but what it tells."""
        elsewhere = told.elsewhere
        if "origin" in elsewhere:
            return elsewhere["origin"], False
        if all(name in elsewhere for name in ("run", "time", "bench")):
            return identity(elsewhere["run"], elsewhere["bench"], elsewhere["time"]), False
        said = [elsewhere[n] for n in ("time", "bench", "run") if n in elsewhere]
        base = ", ".join([*([self._label] if self._label else []), *said, f"row {_digest(told)}"])
        self._met[base] += 1
        return base if self._met[base] == 1 else f"{base} ({self._met[base]})", True


def _digest(told: ToldRun) -> str:
    """Hex digits that stand for all that the row tells, however its numbers are written."""
    content = {
        "outcome": told.outcome.value,
        "settings": dict(told.named),
        "boot": told.boot,
        "cold": told.cold,
        **told.facts,
    }
    text = json.dumps(content, sort_keys=True, ensure_ascii=True)
    return sha256(text.encode()).hexdigest()[:_DIGITS]
