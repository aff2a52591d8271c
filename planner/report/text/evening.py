"""An evening on the demo rig as it is played: its opening, its runs, what came of it."""

from dataclasses import dataclass
from pathlib import Path

from planner.domain.quantity import format_number
from planner.domain.run import Proposal, Run
from planner.history import History
from planner.report.text import phrases
from planner.report.text.layout import labelled, prose


@dataclass(frozen=True, slots=True)
class Truth:
    """What only a made-up rig can tell."""

    room: float
    """°C that it holds for."""
    edge: float | None
    """The hardest value that passes with the target probability; None: none does."""
    best_chance: float
    """Probability that a nominal run passes at the value that the search would keep."""


def opening_text(history: History, folder: Path, seed: int, width: int) -> str:
    """What is played, and on what."""
    definition = history.definition
    knob = definition.searched
    assert knob is not None
    goal, workload = definition.goal, definition.workload
    parts = ", ".join(part.name for part in definition.rig.parts)
    lines = prose(f"{goal.name}: an evening on a made-up rig", width)
    lines += prose(
        f"{parts}. Which {knob.name}, {knob.describe_values()}, still passes"
        f" {workload.name} ({phrases.minutes(workload.minutes)}) with {goal.target:.0%}? The rig"
        f" is a simulation (seed {seed}); the search knows of it only what a bench would tell.",
        width,
    )
    return "\n".join([*lines, *prose(f"Its folder: {folder}", width), ""])


def played_text(asked: Proposal | None, run: Run, history: History, width: int) -> str:
    """One run: what was set and why, what came of it, and the minutes so far."""
    definition, knob = history.definition, history.definition.searched
    assert knob is not None
    head = f"{run.number:>2}  {knob.show(run.ran[knob.name])}"
    if asked is None:
        head += ", your own run: what stock scores"
    else:
        head += f", {phrases.chance(asked.pass_probability)} to pass: "
        head += _in_short(asked.reason, width - len(head))
    told = [phrases.ending(run)]
    if run.score is not None:
        told.append(f"score {format_number(run.score)}{_gain(run, history)}")
    told += [f"{n} {phrases.in_unit(definition, n, v)}" for n, v in run.readings.items()]
    spent = f"{phrases.minutes(run.minutes)}, {format_number(round(history.minutes_spent))} so far"
    return "\n".join(
        [*prose(head, width, hang=4), *prose(f"{', '.join(told)}; {spent}", width, 4, 2)]
    )


def outcome_text(
    history: History, best: float | None, truth: Truth, picture: Path, seconds: float, width: int
) -> str:
    """The evening in figures: runs, score, ceilings, the truth behind it, the picture."""
    failed = sum(run.outcome.failed for run in history.evidence)
    rows = [
        (
            "Evening",
            f"{len(history.evidence)} runs, {failed} failed, {round(history.minutes_spent)} bench"
            f" minutes, played here in {seconds:.1f} s",
        ),
        *_score_rows(history, best),
        ("Ceilings", _ceilings(history)),
        ("Truth", _truth(history, best, truth)),
        ("Picture", str(picture)),
    ]
    return "\n".join(labelled([row for row in rows if row[1]], width))


def going_on_text(folder: Path, suffix: str, width: int) -> str:
    """How the person goes on with the study that is left behind."""
    rows = [
        (f"planner show{suffix}", "all that is known"),
        (f"planner gap{suffix}", "what is missing to the scores to beat"),
        (f"planner reopen{suffix}", "overrule the advice to stop"),
        (f"planner next{suffix}", "then the next proposal; you answer for the machine"),
        (f"planner record crash{suffix}", "or pass --score 2290, or no-start"),
    ]
    lines = prose("It is a study like any other; go on with it:", width) + labelled(rows, width)
    lines += prose(
        f"Or raise core_voltage in {folder / 'study.toml'} to stock = 104: more voltage holds more"
        " clock, and planner next searches there.",
        width,
    )
    return "\n".join(lines)


def _in_short(reason: str, room: int) -> str:
    """What a reason begins with, as many of its clauses as there is room for."""
    clauses = reason.partition("; ")[0].split(", ")
    while len(clauses) > 1 and len(", ".join(clauses)) > room:
        clauses.pop()
    return ", ".join(clauses)


def _gain(run: Run, history: History) -> str:
    first = next((r for r in history.evidence if r.score is not None), run)
    if first.number == run.number or not first.score or run.score is None:
        return ""
    return f" ({run.score / first.score - 1:+.1%})"


def _score_rows(history: History, best: float | None) -> list[tuple[str, str]]:
    """Stock against the mean of the runs at the best value, and the same of the sub-scores."""
    knob = history.definition.searched
    assert knob is not None
    stock = next((r for r in history.evidence if r.ran == history.definition.stock), None)
    kept = [r for r in history.evidence if r.score is not None and r.ran[knob.name] == best]
    if stock is None or stock.score is None or best is None or not kept:
        return []
    runs = "1 run" if len(kept) == 1 else f"{len(kept)} runs"
    mean = sum(r.score or 0.0 for r in kept) / len(kept)
    parts = []
    for name, before in stock.subscores.items():
        after = sum(r.subscores.get(name, 0.0) for r in kept) / len(kept)
        parts.append(f"{name} {before:.4g} to {after:.4g} ({after / before - 1:+.1%})")
    return [
        (
            "Score",
            f"{stock.score:.5g} at stock, {mean:.5g} at {knob.show(best)}"
            f" ({mean / stock.score - 1:+.1%}, mean of {runs})",
        ),
        ("", ", ".join(parts)),
    ]


def _ceilings(history: History) -> str:
    """How far up each guarded knob was asked for, beside its everyday ceiling."""
    definition = history.definition
    asked = [run.settings for run in history.evidence if run.asked is not None]
    parts = []
    for name, ceilings in definition.guarded.items():
        tops = [definition.numbers(setting)[name] for setting in asked]
        if ceilings.everyday is not None and tops:
            top = phrases.in_unit(definition, name, max(tops))
            everyday = phrases.in_unit(definition, name, ceilings.everyday)
            parts.append(f"{name} at most {top}, its everyday ceiling is {everyday}")
    return f"asked for {'; '.join(parts)}" if parts else ""


def _truth(history: History, best: float | None, truth: Truth) -> str:
    definition = history.definition
    knob = definition.searched
    assert knob is not None
    room = f"in a room of {format_number(truth.room)} C"
    target = f"{definition.goal.target:.0%}"
    edge = (
        f"{room} no value passes with {target}"
        if truth.edge is None
        else f"{room} {knob.show(truth.edge)} is the highest that passes with {target}"
    )
    if best is None:
        return edge
    return f"{edge}; {knob.show(best)} passes with {phrases.chance(truth.best_chance)}"
