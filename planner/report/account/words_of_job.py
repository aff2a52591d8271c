"""The job, the conditions and how to repeat it, in words."""

from collections.abc import Iterator

from planner.domain.quantity import format_number, with_unit
from planner.domain.tables import Aim, Workload
from planner.report.account.nouns import Account
from planner.report.text import phrases
from planner.report.written.blocks import (
    Digits,
    Facts,
    Heading,
    Listing,
    PageBlock,
    Paragraph,
    Table,
    Words,
)

_AIMS = {
    Aim.EDGE: "where one knob stops holding, the others staying as they are",
    Aim.FRONTIER: "where one knob stops holding, along a second one",
    Aim.PEAK: "the best score that can be claimed in the minutes there are, over all knobs",
    Aim.EVERYDAY: "the fastest setting that keeps holding, under everyday ceilings",
    Aim.TRIM: "the least voltages that keep holding the clocks and timings of stock",
}
_TIMED = "timed from outside the machine"


def job_blocks(account: Account) -> Iterator[PageBlock]:
    """What was sought, with what, and what could be turned."""
    definition, goal = account.history.definition, account.history.definition.goal
    yield Heading(3, "The job")
    rows: list[tuple[str, Words]] = [("Sought", _AIMS[goal.aim])]
    rows += [(_label(workload), _workload(workload)) for workload in definition.workloads.values()]
    rows.append(("Sound is", f"what {goal.target:.4g} of full runs pass"))
    if goal.minutes is not None:
        rows.append(("Minutes there were", format_number(goal.minutes)))
    beat = definition.workload.beat
    rows += [("To beat", f"{name}, {format_number(score)}") for name, score in beat]
    yield Facts(tuple(rows))
    yield Heading(3, "What could be turned")
    yield Table(
        ("Knob", "Values", "Stock", "Changed"),
        tuple(
            (name, knob.describe_values(), knob.show(knob.stock), knob.where.value)
            for name, knob in definition.knobs.items()
        ),
        "What could be turned",
    )


def _label(workload: Workload) -> str:
    return "Workload, scored" if workload.scored else "Workload"


def _workload(workload: Workload) -> str:
    parts = [workload.name, f"{phrases.minutes(workload.minutes)} a full run"]
    if workload.version:
        parts.append(f"version {workload.version}")
    if workload.settle_minutes:
        parts.append(f"{phrases.minutes(workload.settle_minutes)} until heat has settled")
    if workload.subscores:
        parts.append(f"sub-scores {', '.join(name for name, _ in workload.subscores)}")
    if workload.timed_outside:
        parts.append(_TIMED)
    return ", ".join(parts)


def condition_blocks(account: Account) -> Iterator[PageBlock]:
    """What the runs have in common: benches, boots, readings, the circuit."""
    history, mains = account.history, account.history.definition.mains
    yield Heading(2, "Conditions")
    runs = history.evidence
    cold = len({run.boot for run in runs if run.cold})
    boots = len({run.boot for run in runs})
    rows: list[tuple[str, Words]] = [
        ("Benches", ", ".join(sorted({run.bench for run in runs if run.bench})) or "not told"),
        ("Boots", f"{boots}, {cold or 'none'} of them told to be cold" if runs else "none yet"),
    ]
    if mains is not None:
        circuit = f"{format_number(mains.amps)} A at {format_number(mains.volts)} V"
        rows.append(("Mains", f"a circuit of {circuit}"))
    yield Facts(tuple(rows))
    if table := _readings(account):
        yield table
    yield Paragraph(
        "What was told between the runs, as new firmware or a moved ceiling, stands there in its"
        " place."
    )


def _readings(account: Account) -> Table | None:
    """Every reading with its lowest and highest value."""
    rows = []
    for name, reading in account.history.definition.readings.items():
        values = [run.readings[name] for run in account.history.evidence if name in run.readings]
        extremes = (min(values), max(values)) if values else ()
        ends = [with_unit(end, reading.unit) for end in extremes]
        stop = "none" if reading.stop is None else with_unit(reading.stop, reading.unit)
        source = reading.source or "not told"
        rows.append((name, *(ends or ["not recorded", "-"]), stop, str(len(values)), source))
    if not rows:
        return None
    head = ("Reading", "Lowest", "Highest", "Stop", "Runs", "Read from")
    return Table(head, tuple(rows), "Readings")


_A_SCORE = (
    "To repeat a score: dial in the complete setting of its run, bring about the conditions that"
    " stand beside it, run the same version of the workload, and more than once. What counts is"
    " the mean of the repeats against the run-to-run noise."
)
_THE_KEPT = (
    "To repeat the setting to keep: dial in all its values, bring about the conditions of the runs,"
    " and run the same version of the workload until as many passes in a row as a claim takes have"
    " been made, some of them after a cold boot."
)
_APPROACH = (
    "Another sample of the same parts has other edges: begin at its own stock setting, and"
    " approach."
)


def repeat_blocks(account: Account) -> Iterator[PageBlock]:
    """How a stranger goes about it, and the study file word for word."""
    goal = account.history.definition.goal
    yield Heading(2, "To repeat it")
    scored = any(made.run.score is not None for made in account.made)
    yield Paragraph(f"{_A_SCORE if scored else _THE_KEPT} {_APPROACH}")
    yield Paragraph(
        (
            "To repeat the search: put the file below into a folder of its own as ",
            Digits("study.toml"),
            ", fill in ceilings for your own parts, and follow ",
            Digits("planner check"),
            ", ",
            Digits("planner next"),
            " and ",
            Digits("planner record"),
            f". This was planner {account.version}, strategy {goal.strategy}, seed {goal.seed}: the"
            " same answers to the same version give the same proposals.",
        )
    )
    yield Heading(3, "The study file")
    edits = len(account.history.definitions) - 1
    if edits:
        yield Paragraph(
            f"As it was taken over last; it was edited {phrases.counted(edits, 'time')}, and the"
            " ledger keeps every version."
        )
    yield Listing(account.history.definition.text)
