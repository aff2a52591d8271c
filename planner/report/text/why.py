"""What a failed run is blamed on, in words."""

from planner.history import History
from planner.peak.blame import STRAY, Blame
from planner.report.text import phrases
from planner.report.text.layout import columns, labelled, prose, widest

_LEAST = 0.02
"""Smaller shares are summed up."""


def why_text(history: History, blame: Blame, width: int) -> str:
    """The shares of the causes, and the run that would best tell them apart."""
    run = history.by_number[blame.run]
    definition = history.definition
    lines = prose(f"Run {run.number}: {phrases.ending(run)}", width)
    rows = blame_rows(history, blame)
    table = columns(rows, right=(0, 3))
    if widest(table) > width - 2:
        table = columns([(share, knob, value) for share, knob, _, value in rows], right=(0, 2))
    lines += ["", *("  " + line for line in table)]
    rest = sum(share for share in blame.shares.values() if share < _LEAST)
    if rest >= _LEAST / 2:
        lines += prose(f"{rest:.0%} on the others together.", width, 2)
    return "\n".join([*lines, "", *labelled([("To tell", _telling(history, blame))], width)]) + (
        "" if not definition.goal.aim.one_knob else "\n" + "\n".join(prose(_ASIDE, width))
    )


_ASIDE = "This counts every knob against the run, whatever the study's aim searches."


def blame_rows(history: History, blame: Blame) -> list[tuple[str, str, str, str]]:
    """Headings, then each cause with its share in a failed run, the likeliest first."""
    run, knobs = history.by_number[blame.run], history.definition.knobs
    rows = [("share", "knob", "group", "value")]
    for name, share in blame.shares.items():
        if share < _LEAST:
            continue
        if name == STRAY:
            rows.append((f"{share:.0%}", "none: a stray crash", "", ""))
        else:
            knob = knobs[name]
            rows.append((f"{share:.0%}", name, knob.group, knob.show(run.ran[name])))
    return rows


def _telling(history: History, blame: Blame) -> str:
    if blame.telling is None:
        return "no single run would tell more about this one"
    stock = history.definition.stock
    knobs = history.definition.knobs
    moved = [f"{n} {knobs[n].show(v)}" for n, v in blame.telling.items() if v != stock[n]]
    where = ", ".join(moved) if moved else "everything"
    rest = ", the other knobs at stock" if moved else " at stock"
    return f"one run at {where}{rest} would tell most ({blame.bits:.2f} bits)"
