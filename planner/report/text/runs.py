"""The table of runs."""

from collections.abc import Sequence

from planner.domain.definition import Definition
from planner.domain.knob import Knob
from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.gate import above_everyday
from planner.history import History
from planner.report.text import phrases
from planner.report.text.layout import columns, prose, shortened, widest

_ROOM = 20
"""Remarks that have less room than this go on a line of their own."""


def run_lines(history: History, last: int, suffix: str, width: int) -> list[str]:
    """The last runs, oldest first, in a table as wide as `width` allows."""
    if not history.runs:
        return ["  none yet"]
    definition = history.definition
    runs = history.runs[-last:] if last else history.runs
    knobs = phrases.traced(definition)
    table = _table(knobs, runs)
    if widest(table) > width:
        knobs = knobs[:1]
        table = _table(knobs, runs)
    remarks = ["", *(_remark(definition, knobs, run) for run in runs)]
    lines = _joined(table, remarks, width)
    left = len(history.runs) - len(runs)
    return ([f"  {left} earlier runs: planner show --all{suffix}"] if left else []) + lines


def run_rows(history: History, last: int) -> list[tuple[str, ...]]:
    """Headings, then the last runs, the newest first: as a table of cells, remarks in the last."""
    definition, knobs = history.definition, phrases.traced(history.definition)
    head = ("run", "outcome", *(knob.name for knob in knobs), "min", "score", "")
    runs = reversed(history.runs[-last:])
    return [head, *((*_row(knobs, run), _remark(definition, knobs, run)) for run in runs)]


def _table(knobs: list[Knob], runs: Sequence[Run]) -> list[str]:
    rows = [("run", "outcome", *(knob.name for knob in knobs), "min", "score")]
    rows += [_row(knobs, run) for run in runs]
    scored = any(row[-1] for row in rows[1:])
    rows = rows if scored else [row[:-1] for row in rows]
    return ["  " + line for line in columns(rows, right=(0, *range(2, len(rows[0]))))]


def _row(knobs: list[Knob], run: Run) -> tuple[str, ...]:
    values = (knob.show(run.ran[knob.name]) for knob in knobs)
    score = "" if run.score is None else format_number(float(f"{run.score:.7g}"))
    return str(run.number), str(run.outcome), *values, f"{run.minutes:.1f}", score


def _joined(table: list[str], remarks: list[str], width: int) -> list[str]:
    room = width - widest(table) - 2
    if room >= _ROOM:
        start = widest(table) + 2
        return [
            f"{line:<{start}}{shortened(remark, room)}".rstrip()
            for line, remark in zip(table, remarks, strict=True)
        ]
    lines = []
    for line, remark in zip(table, remarks, strict=True):
        lines.append(line[:width].rstrip())
        lines += prose(shortened(remark, 2 * (width - 7)), width, 7)
    return lines


def _remark(definition: Definition, shown: list[Knob], run: Run) -> str:
    """What stands beside a run; `shown`: the knobs that have a column."""
    above, traced = above_everyday(definition, run.ran), phrases.traced(definition)
    parts = [
        f"{name}{'' if knob in shown else ' ' + knob.show(run.ran[name])}"
        f"{' over ceiling' if name in above else ''}"
        for name, knob in definition.knobs.items()
        if name in above or (knob not in shown and (knob in traced or run.ran[name] != knob.stock))
    ]
    parts += [f"{name} over ceiling" for name in above if name in definition.derived]
    if run.failed_after_s is not None:
        parts.append(f"after {format_number(run.failed_after_s)} s")
    if run.errors:
        parts.append(f"{run.errors} counted")
    if run.outcome is Outcome.STOPPED:
        parts.append(f"held {format_number(run.run_minutes)} min")
    if run.workload != definition.workload.name:
        parts.append(run.workload)
    if run.capped:
        parts.append(f"capped by {run.capped}")
    if any(run.ran.get(name, value) != value for name, value in run.settings.items()):
        parts.append("not as set")
    if run.suspect:
        parts.append(f"suspect {run.suspect}")
    if run.asked is None:
        parts.append("own")
    if run.amended:
        parts.append("amended")
    return ", ".join([*parts, *(text for text in (run.symptom, run.note) if text)])
