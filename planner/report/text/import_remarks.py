"""What is worth a second look among imported runs: stock values, ceilings, stops."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.gate import above_everyday
from planner.importing.plan import Plan, PlannedRun
from planner.report.text import phrases
from planner.report.text.passed import NOT_FILLED_IN, everyday_words, last_passed

_NAMED = 8
"""Runs or lines that a remark names."""


@dataclass(frozen=True, slots=True)
class Naming:
    """How the runs of a plan are named: by their lines, or once recorded by their numbers."""

    noun: str
    number: Callable[[PlannedRun], int]

    def listed(self, runs: Iterable[PlannedRun]) -> str:
        """The runs by name."""
        return listed(self.noun, [self.number(run) for run in runs])


def remarks(plan: Plan, definition: Definition, naming: Naming) -> list[str]:
    """A sentence for each thing that a person should know, in order of weight."""
    found = _ceilings(plan, definition, naming) + _stops(plan, definition, naming)
    if off := [run for run in plan.runs if not _on_grid(definition, run)]:
        found.append(f"Off the steps or out of range: {naming.listed(off)}.")
    if plan.older:
        found.append(
            "From before a change of the machine that the file tells of, and yet full evidence"
            f" here: {naming.listed(plan.older)}."
        )
    return found + _stock(plan, definition)


def listed(noun: str, numbers: Sequence[int]) -> str:
    """`run 7`, `lines 2 to 40`, `lines 2, 3, 5, ... and 12 more`."""
    if len(numbers) == 1:
        return f"{noun} {numbers[0]}"
    if numbers[-1] - numbers[0] == len(numbers) - 1 and len(numbers) > 2:
        return f"{noun}s {numbers[0]} to {numbers[-1]}"
    some = ", ".join(map(str, numbers[:_NAMED]))
    left = len(numbers) - _NAMED
    return f"{noun}s {some}" + (f" and {left} more" if left > 0 else "")


def _stock(plan: Plan, definition: Definition) -> list[str]:
    def said(name: str, count: int) -> str:
        knob = definition.knobs[name]
        everywhere = count == len(plan.runs)
        among = "" if everywhere else f" in {phrases.counted(count, 'run')}"
        return f"{name} {knob.show(knob.stock)}{among}"

    if not plan.at_stock:
        return []
    named = ", ".join(said(name, count) for name, count in plan.at_stock.items())
    return [f"Not told, so taken to be at stock: {named}."]


def _on_grid(definition: Definition, run: PlannedRun) -> bool:
    return all(knob.allows(run.ran[name]) for name, knob in definition.knobs.items())


def _ceilings(plan: Plan, definition: Definition, naming: Naming) -> list[str]:
    above = _by_name(plan, lambda run: above_everyday(definition, run.ran))

    def passed(run: PlannedRun) -> list[str]:
        return [f"{what} of {name}" for name, what in last_passed(definition, run.ran).items()]

    return [
        f"{_own_risk(definition, name)}: {naming.listed(runs)} (recorded, not refused)."
        for name, runs in above.items()
    ] + [f"{what}: {naming.listed(runs)}." for what, runs in _by_name(plan, passed).items()]


def _own_risk(definition: Definition, name: str) -> str:
    if (words := everyday_words(definition, name)) == NOT_FILLED_IN:
        return f"AT YOUR OWN RISK: {name} {words}"
    return phrases.own_risk([name])


def _stops(plan: Plan, definition: Definition, naming: Naming) -> list[str]:
    stops = {n: r.stop for n, r in definition.readings.items() if r.stop is not None}

    def passed(run: PlannedRun) -> list[str]:
        readings: Mapping[str, float] = run.facts.get("readings", {})
        return [name for name, stop in stops.items() if readings.get(name, stop) > stop]

    return [
        f"{name} past its stop of {phrases.in_unit(definition, name, stops[name])}:"
        f" {naming.listed(runs)}; that setting and everything at least as hot is not proposed any"
        " more."
        for name, runs in _by_name(plan, passed).items()
    ]


def _by_name(
    plan: Plan, names: Callable[[PlannedRun], Iterable[str]]
) -> dict[str, list[PlannedRun]]:
    """The runs of which each name is said."""
    found: dict[str, list[PlannedRun]] = {}
    for run in plan.runs:
        for name in names(run):
            found.setdefault(name, []).append(run)
    return found
