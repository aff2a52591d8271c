"""Figures of many evenings, as the rows of a Markdown table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from scoring import Score

HEAD = (
    "competitor",
    "bench minutes",
    "runs",
    "crashes",
    "sound and sharp",
    "sound",
    "nothing passed there",
    "interval covers",
    "edge below / above",
    "width",
)


def row(name: str, scores: Sequence[Score]) -> list[str]:
    """One competitor's means, with standard errors where they decide."""
    cells = [
        name,
        with_error([s.minutes for s in scores], 1),
        f"{np.mean([s.runs for s in scores]):.1f}",
        f"{np.mean([s.crashes for s in scores]):.1f}",
        with_error([s.sound and s.sharp for s in scores], 3),
        f"{np.mean([s.sound for s in scores]):.3f}",
        f"{np.mean([not s.borne_out for s in scores]):.3f}",
    ]
    widths = [s.width for s in scores if s.width is not None]
    if len(widths) < len(scores):
        return [*cells, "", "", ""]
    low, high = np.mean([bool(s.low) for s in scores]), np.mean([bool(s.high) for s in scores])
    return [*cells, f"{1 - low - high:.3f}", f"{low:.3f} / {high:.3f}", f"{np.mean(widths):.2f}"]


def with_error(values: Sequence[float], digits: int) -> str:
    """Mean and standard error of the mean."""
    error = np.std(values, ddof=1) / np.sqrt(len(values)) if len(values) > 1 else np.nan
    return f"{np.mean(values):.{digits}f} ± {error:.{digits}f}"


def markdown(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table with aligned columns."""
    lines = [list(head), *(list(cells) + [""] * (len(head) - len(cells)) for cells in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(head))]
    text = [
        "| "
        + " | ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True))
        + " |"
        for line in lines
    ]
    text.insert(1, "|" + "|".join("-" * (width + 2) for width in widths) + "|")
    return "\n".join(text)
