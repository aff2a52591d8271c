"""Each row put before the checks that recording makes, in order, without recording anything."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from planner.domain.run import Run
from planner.entries.facts import checked_facts
from planner.entries.runs import run_entry
from planner.errors import RecordError
from planner.history import History
from planner.importing.faults import Fault
from planner.importing.rows import ToldRun


class Rehearsal:
    """What recording would refuse, row after row: earlier rows count as recorded."""

    def __init__(self, history: History) -> None:
        """`history`: the study as it stands."""
        # Of earlier runs, the checks look at scores alone.
        scored = tuple(run for run in history.runs if run.best_score)
        self._history = replace(history, pending={}, runs=scored)

    def faults(self, told: ToldRun, facts: Mapping[str, Any]) -> list[Fault]:
        """What is wrong with the run; empty: it can be recorded."""
        given = {"settings": told.settings, **facts}
        try:
            body = run_entry(self._history, "", told.outcome, None, given)
        except RecordError as error:
            return list(self._located(told)) or [Fault(told.line, str(error))]
        if body.get("score"):
            self._keep(told, body)
        return []

    def _located(self, told: ToldRun) -> Iterator[Fault]:
        """Faults of single cells, with their columns; none where only the whole cannot be."""
        workload = told.facts.get("workload", self._history.definition.workload.name)
        for (fact, name), heading in told.headings.items():
            value = told.named if fact == "settings" else told.facts.get(fact)
            if value is None:
                continue
            try:
                one = {name: value[name]} if name else value
                checked_facts(self._history, workload, {fact: one})
            except RecordError as error:
                yield Fault(told.line, f"column {heading!r}: {error}")

    def _keep(self, told: ToldRun, body: Mapping[str, Any]) -> None:
        run = Run(
            number=body["run"],
            outcome=told.outcome,
            settings=told.settings,
            ran=told.ran,
            workload=body["workload"],
            run_minutes=body["run_minutes"],
            minutes=0.0,
            usual_minutes=0.0,
            score=body["score"],
            capped=told.facts.get("capped"),
        )
        if run.best_score:
            self._history = replace(self._history, runs=(*self._history.runs, run))
