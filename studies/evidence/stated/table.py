"""Figures as Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np


def with_error(values: Sequence[float], digits: int) -> str:
    """Mean and standard error."""
    error = np.std(values, ddof=1) / np.sqrt(len(values)) if len(values) > 1 else 0.0
    return f"{np.mean(values):.{digits}f} ± {error:.{digits}f}"


def markdown(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table."""
    lines = ["| " + " | ".join(cells) + " |" for cells in (head, *rows)]
    return "\n".join([lines[0], "|" + "---|" * len(head), *lines[1:]])
