"""What became of the run that a drive had under way when it was cut off."""

from typing import Any

from planner.bench import boot_instant, boot_mark, same_boot
from planner.domain.drive import WENT_DOWN
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.driving.trail import Begun, UnderWay
from planner.study import Study

_LONGEST_BOOT_S = 604_800.0
"""What lies further back is a clock that was set, not a machine that was off."""


def settle(study: Study, told: UnderWay, apart: bool) -> Run | None:
    """Record what became of it; None where no run was under way, or it is on record.

    `apart`: the machine under test is another one than this, so this one's restart says nothing
    of it. A run that was asked for and not begun is simply still to be run.
    """
    pending = study.pending
    if pending is None:
        return None
    begun = told.begun if told.whole else Begun(pending.number)
    if begun is None or begun.run != pending.number:
        return None
    if told.whole and same_boot(told.boot_mark, boot_mark()):
        note = "the drive was ended from outside; the machine was not restarted"
        return study.record(Outcome.VOID, number=begun.run, note=note)
    if apart:
        note = "the planner's machine was restarted; what became of the run is not known"
        return study.record(Outcome.VOID, number=begun.run, note=note)
    facts = _went_down(told, begun, pending.run_minutes)
    return study.record(Outcome.CRASH, number=begun.run, **facts)


def _went_down(told: UnderWay, begun: Begun, run_minutes: float) -> dict[str, Any]:
    """The facts of a crash, its time bounded by the last sign of life and the present boot."""
    if not told.whole:
        return {"symptom": WENT_DOWN, "note": "what the drive had written down is spoilt"}
    if not begun.started:
        return {"symptom": f"{WENT_DOWN} while its values were set", "failed_after_s": 0.0}
    note = f"last sign of life after {begun.alive_s:.0f} s"
    if (latest := _latest(begun)) is not None:
        note += f", started anew within {latest:.0f} s"
    after = min(begun.alive_s, run_minutes * 60)
    return {"symptom": WENT_DOWN, "failed_after_s": round(after, 3), "note": note}


def _latest(begun: Begun) -> float | None:
    """Seconds from the workload's start to the present boot; None where the clocks don't tell."""
    instant = boot_instant()
    if instant is None:
        return None
    latest = instant - begun.started
    return latest if begun.alive_s <= latest < _LONGEST_BOOT_S else None
