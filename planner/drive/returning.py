"""After a reset: what became of the run that was under way.

`record`ed is what the trail on disk shows; nothing is guessed. A run that was asked for and not
begun is simply still to be run. One that was begun on an earlier boot of this machine took it
down: a crash, between its last sign of life and the start of the present boot.
"""

from dataclasses import dataclass
from typing import Any

from planner.bench import boot_instant, boot_mark, same_boot
from planner.drive.process import end_left_over
from planner.drive.under_way import Begun, Phase, UnderWay
from planner.errors import AnswerOwed, RecordError
from planner.study import Study


@dataclass(frozen=True, slots=True)
class Finding:
    """What became of it."""

    outcome: str
    facts: dict[str, Any]
    why: str


def settle(study: Study, told: UnderWay, by_hand: bool) -> str:
    """Record what became of the run that was under way; what was done, in words.

    `by_hand`: a person is there, who has looked at the machine.

    Raises:
        AnswerOwed: only a person can say.
    """
    left = end_left_over(told.token)
    words = f"{left} processes of the earlier drive were ended. " if left else ""
    pending, begun = study.pending, told.begun
    if not told.whole and pending is not None:
        begun = Begun(pending.number, Phase.RUNNING)
    if begun is None:
        return words
    if begun.run == 0 and by_hand:
        return f"{words}The first run, at stock values, did not come to its end."
    if begun.run == 0:
        raise AnswerOwed(
            "the first run, at stock values, did not come to its end: look at the machine, and"
            " start the drive again once it is sound"
        )
    if begun.run in study.history.by_number or pending is None or pending.number != begun.run:
        return words
    found = finding(told, begun, pending.run_minutes)
    record(study, begun.run, found)
    return f"{words}Run {begun.run} is recorded as {found.outcome}: {found.why}."


def finding(told: UnderWay, begun: Begun, run_minutes: float) -> Finding:
    """What became of a run that was begun."""
    if begun.phase is Phase.OVER:
        return Finding(begun.outcome, dict(begun.facts), "it had ended before the restart")
    if told.whole and same_boot(told.boot_mark, boot_mark()):
        return Finding("void", {}, "the drive was ended from outside, the machine was not")
    if begun.phase is Phase.APPLYING:
        facts = {"failed_after_s": 0.0, "symptom": "went down while its values were applied"}
        return Finding("crash", facts, "the machine went down while its values were applied")
    facts = {"symptom": "the machine went down"}
    if not told.whole:
        return Finding("crash", facts, "the machine went down, and the trail on disk is spoilt")
    after = min(begun.alive_s, run_minutes * 60)
    bounds = f"last sign of life after {begun.alive_s:.0f} s"
    if (latest := _latest(begun)) is not None:
        bounds += f", started anew within {latest:.0f} s"
    why = f"the machine went down ({bounds})"
    return Finding("crash", {**facts, "failed_after_s": after}, why)


def record(study: Study, number: int, found: Finding) -> None:
    """Record it, less what the study refuses of its facts: the outcome must not be lost."""
    note = f"driven: {found.why}"[:1000] if found.why else "driven"
    facts = {"note": _printable(note), **found.facts}
    kept: dict[str, Any] = {name: facts[name] for name in ("note", "run_minutes") if name in facts}
    try:
        study.record(found.outcome, number=number, **facts)
    except RecordError as error:
        kept["note"] = _printable(f"{kept['note']}; left out: {error}")[:1000]
        if found.outcome == "errors":
            kept["errors"] = 1
        study.record(found.outcome, number=number, **kept)


def _latest(begun: Begun) -> float | None:
    """Seconds from its start until this boot; None where the clocks don't tell."""
    started = boot_instant()
    if started is None or begun.started <= 0:
        return None
    latest = started - begun.started
    return latest if begun.alive_s <= latest < 604_800 else None


def _printable(text: str) -> str:
    return "".join(c if c.isprintable() else " " for c in text)
