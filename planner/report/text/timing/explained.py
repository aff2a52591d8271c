"""The screen of `timing explain`: one paragraph for each thing that the timings decide."""

from dataclasses import dataclass

from planner.domain.quantity import format_number
from planner.report.text.layout import labelled, prose
from planner.report.text.timing.bound import bound_rows
from planner.report.text.timing.compared import at_rows, bin_rows, standard_rows
from planner.report.text.timing.figures import clocks, listed, ns
from planner.report.text.timing.refreshed import refresh_rows
from planner.trade.timing.clocks import nanoseconds
from planner.trade.timing.pace import peak_gigabytes, waits
from planner.trade.timing.timings import Timings

_AFTER = {
    "open row": "after the read where its row is open",
    "closed bank": "after the activate where the bank is closed",
    "other row": "after the precharge where another row is open",
}


@dataclass(frozen=True, slots=True)
class Explained:
    """What is explained, and beside what."""

    timings: Timings
    title: str
    """Where they come from: a study's setting, or nothing but what was typed."""
    moved: Timings | None = None
    """The same nanoseconds at another data rate."""
    gigabits: int | None = None
    """Of one chip, if told."""


def explained_rows(explained: Explained) -> list[tuple[str, str]]:
    """Labels and their sentences."""
    timings = explained.timings
    return [
        *_pace_rows(timings),
        *bin_rows(timings),
        *bound_rows(timings),
        *refresh_rows(timings, explained.gigabits),
        *standard_rows(timings),
        *(at_rows(timings, explained.moved) if explained.moved else []),
    ]


def sentences(rows: list[tuple[str, str]]) -> list[dict[str, str]]:
    """The rows for programs."""
    plain = [(label, text.replace("\N{NO-BREAK SPACE}", " ")) for label, text in rows]
    return [{"about": label, "text": text} for label, text in plain]


def explained_text(explained: Explained, width: int) -> str:
    """The sentences, to read on a screen `width` wide."""
    timings = explained.timings
    title = f"{explained.title}: {timings.standard}-{format_number(timings.rate)}"
    lines = [*prose(title, width), ""]
    return "\n".join(lines + labelled(explained_rows(explained), width))


def _pace_rows(timings: Timings) -> list[tuple[str, str]]:
    clock = ns(nanoseconds(1, timings.rate))
    peak = format_number(round(peak_gigabytes(timings.rate), 1))
    rows = [
        (
            "Clock",
            f"one lasts {clock} and carries two transfers; 64 data lines move at most {peak} GB/s",
        )
    ]
    found = [
        f"{clocks(count, timings.rate)} {_AFTER[case]}"
        for case, count in waits(dict(timings.clocks)).items()
    ]
    return [*rows, ("Wait", f"the first data come {listed(found)}")] if found else rows
