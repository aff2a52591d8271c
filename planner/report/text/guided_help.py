"""All that may be typed at the one prompt of an evening."""

from collections.abc import Sequence

from planner.domain.definition import Definition
from planner.domain.outcome import Capped
from planner.report.text.layout import labelled, prose

_ENDED = (
    ("p, pass", "held to the end"),
    ("c, crash", "hung, reset or went blank; c 85s says when"),
    ("n, no-start", "did not train or boot"),
    ("e, errors", "errors were counted; e 3 says how many"),
    ("w, wrong-result", "finished with a wrong result"),
    ("o, power-off", "supply or breaker tripped"),
    ("s, stopped", "you stopped it; s 4min says how long it had held"),
    ("v, void", "it was not run, or says nothing about the setting"),
)
_FACTS = (
    ("after 85s", "when it failed; also 85s alone, or 1m25s"),
    ("saw WORDS", "what was seen; hang, reset or blank screen need no saw"),
    ("cold, warm", "the machine was started so for this run"),
    ("capped WHY", f"it held, but is no best: {', '.join(Capped)}"),
    ("actual KNOB=X", "what really ran, where the firmware did otherwise"),
    ("suspect KNOB", "what you suspect"),
    ("ran 4min", "how long the workload ran; took 9min: all in"),
    ("note WORDS", "anything else, to the end of the line"),
)
_ELSE = (
    ("u, undo", "tell anew how the last run of this session ended; u again goes further back"),
    ("own KNOB=X pass", "a run of your own, told in the same words; own pass: as the machine is"),
    ("note WORDS", "add a note to the last answer"),
    ("show, plot", "how the study stands; its picture"),
    ("again, skip", "see the run once more; what to do if you do not want it"),
    ("q, quit", "leave; also Ctrl-D. Nothing is lost"),
)


def help_text(definition: Definition, width: int) -> str:
    """The words for outcomes, for facts beside them, and for all else."""
    sections = [
        ("How it ended", _ENDED),
        ("More about it, on the same line", (*_named(definition), *_FACTS)),
        ("Else", _ELSE),
    ]
    column = max(len(word) for _, rows in sections for word, _ in rows)
    lines: list[str] = []
    for title, rows in sections:
        lines += [title, *_rows(rows, column, width), ""]
    return "\n".join(lines[:-1])


def _named(definition: Definition) -> list[tuple[str, str]]:
    """The score, its parts, and readings, as this study has them."""
    workload = definition.workload
    rows = [("2417" if workload.scored else "score=2417", "its score")]
    if workload.subscores:
        parts = [name for name, _ in workload.subscores]
        rows.append((f"{parts[0]}=318", f"a part of the score: {', '.join(parts)}"))
    if definition.readings:
        readings = list(definition.readings)
        rows.append((f"{readings[0]}=25", f"a reading: {', '.join(readings)}"))
    return rows


def _rows(rows: Sequence[tuple[str, str]], column: int, width: int) -> list[str]:
    if column + 28 > width:
        return [
            line for word, text in rows for line in ("  " + word, *prose(text, width, indent=4))
        ]
    padded = [(word.ljust(column), text) for word, text in rows]
    return ["  " + line for line in labelled(padded, width - 2)]
