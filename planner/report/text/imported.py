"""What an import did or would do."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number
from planner.gate import above_everyday
from planner.history import History
from planner.importing.plan import Plan, PlannedRun
from planner.report.text import phrases
from planner.report.text.import_remarks import Naming, listed, remarks
from planner.report.text.layout import columns, prose, widest

_SHOWN = 20
"""Rows of a dry run that are shown."""


def imported_text(plan: Plan, numbers: Sequence[int], history: History, width: int) -> str:
    """What was recorded; `numbers`: of the runs, in the order of the plan."""
    if not plan.runs:
        return _paragraphs([f"Nothing to record from {plan.file}.", *_known(plan)], width)
    span = f"run {numbers[0]}" if len(numbers) == 1 else f"runs {numbers[0]} to {numbers[-1]}"
    counted = phrases.counted(len(numbers), "run")
    head = f"Recorded {counted} from {plan.file}, {span}: {_outcomes(plan.runs)}."
    name = dict(zip((run.line for run in plan.runs), numbers, strict=True))
    said = [head, *_known(plan)]
    said += remarks(plan, history.definition, Naming("run", lambda run: name[run.line]))
    held = _marked(history.definition, history.machine)
    said.append(f"From here on the machine is taken to hold, as the last run left it: {held}.")
    return _paragraphs(said, width)


def dry_run_text(plan: Plan, definition: Definition, width: int) -> str:
    """What would be recorded, row by row."""
    counted = phrases.counted(len(plan.runs), "run")
    head = f"{counted} to record from {plan.file}; nothing was written."
    said = _known(plan) + remarks(plan, definition, Naming("line", lambda run: run.line))
    table = _table(plan.runs, definition, width) if plan.runs else []
    lines = [_paragraphs([head], width), *table]
    return "\n".join([*lines, _paragraphs(said, width)] if said else lines)


def _paragraphs(said: Iterable[str], width: int) -> str:
    return "\n".join(line for text in said for line in prose(text, width, hang=2))


def _outcomes(runs: Iterable[PlannedRun]) -> str:
    counted = Counter(run.outcome for run in runs)
    return ", ".join(f"{counted[each]} {each}" for each in Outcome if counted[each])


def _marked(definition: Definition, values: Mapping[str, Value]) -> str:
    mark = "AT YOUR OWN RISK " if above_everyday(definition, values) else ""
    return mark + phrases.setting(definition, values)


def _table(runs: Sequence[PlannedRun], definition: Definition, width: int) -> list[str]:
    rows = [("line", "outcome", "score")]
    for run in runs[:_SHOWN]:
        score = run.facts.get("score")
        shown = "" if score is None else format_number(score)
        rows.append((str(run.line), str(run.outcome), shown))
    scored = any(row[2] for row in rows[1:])
    fixed = columns([row if scored else row[:2] for row in rows], right=(0, 2))
    ran = ["ran", *(_marked(definition, run.ran) for run in runs[:_SHOWN])]
    size = widest(fixed)
    lines = []
    for cells, setting in zip(fixed, ran, strict=True):
        first, *rest = prose(setting, width - size - 4)
        lines.append(f"  {cells:<{size}}  {first}")
        lines += [" " * (size + 4) + line for line in rest]
    left = len(runs) - _SHOWN
    return lines + ([f"  and {left} more"] if left > 0 else [])


def _known(plan: Plan) -> list[str]:
    if not plan.known:
        return []
    rows = phrases.counted(len(plan.known), "row is", "rows are")
    lines = listed("line", [row.line for row in plan.known])
    said = [f"{rows} on record already and left out: {lines}."]
    if any(row.by_content for row in plan.known):
        said.append(
            "A row without run, time and bench is known by what it tells. If those are other runs"
            " that only look alike, give the file a name of its own: --from NAME."
        )
    if differing := [row for row in plan.known if row.differs]:
        verb = "tells" if len(differing) == 1 else "tell"
        said.append(
            f"{listed('Line', [row.line for row in differing])} {verb} otherwise than"
            f" {listed('run', [row.number for row in differing])} by now; the record stands. Mend"
            " it with planner amend."
        )
    return said
