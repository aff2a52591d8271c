"""Settings that may be run instead of the one proposed."""

from collections.abc import Sequence

from planner.domain.knob import Setting
from planner.history import History
from planner.peak.alternatives import Alternative
from planner.report.text import phrases
from planner.report.text.layout import labelled, prose


def alternatives_text(others: Sequence[Alternative], history: History, width: int) -> str:
    """Each with what it changes, its chance and why; that there is none."""
    if not others:
        return "\n".join(prose("No other setting is worth its minutes now.", width))
    lines = prose(
        "Or one of these; record it with its values (planner record pass --set ...).", width
    )
    for number, other in enumerate(others, 2):
        rows = [
            (f"{number}", _changed(history, other.settings)),
            ("", other.reason),
            (
                "",
                f"{phrases.chance(other.pass_probability)} to pass, about"
                f" {phrases.minutes(other.minutes)}",
            ),
        ]
        lines += ["", *labelled(rows, width)]
    return "\n".join(lines)


def _changed(history: History, setting: Setting) -> str:
    knobs, machine = history.definition.knobs, history.machine
    found = [f"{n} {knobs[n].show(v)}" for n, v in setting.items() if machine.get(n) != v]
    return ", ".join(found) or "nothing to change"
