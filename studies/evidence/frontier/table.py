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
    "sound and within one step",
    "sound",
    "band covers",
    "edge below / above",
    "width, steps",
)


def row(name: str, scores: Sequence[Score]) -> list[str]:
    """One competitor's means, with standard errors over rigs where they decide."""
    cells = [
        name,
        with_error([s.minutes for s in scores], 1),
        f"{np.mean([s.runs for s in scores]):.1f}",
        f"{np.mean([s.crashes for s in scores]):.1f}",
        with_error([s.both for s in scores], 3),
        f"{np.mean([s.sound for s in scores]):.3f}",
    ]
    told = [(s.low, s.high, s.width) for s in scores if s.low is not None]
    if len(told) < len(scores):
        return [*cells, "", "", ""]
    low, high, width = (np.array([t[i] for t in told], float) for i in range(3))
    covers = with_error(list(1 - low - high), 3)
    ends = f"{low.mean():.3f} / {high.mean():.3f}"
    return [*cells, covers, ends, f"{width.mean():.2f}"]


def with_error(values: Sequence[float], decimals: int) -> str:
    """Mean and standard error."""
    error = np.std(values, ddof=1) / np.sqrt(len(values)) if len(values) > 1 else 0.0
    return f"{np.mean(values):.{decimals}f} ± {error:.{decimals}f}"


def markdown(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table."""
    lines = ["| " + " | ".join(cells) + " |" for cells in (head, *rows)]
    return "\n".join([lines[0], "|" + "---|" * len(head), *lines[1:]])
