"""How often the groups that were blamed so much were to blame: bins, and a picture of them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

_ENDS = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0)


class Bin(NamedTuple):
    """Groups whose share of the blame was stated between two ends."""

    low: float
    high: float
    groups: int
    stated: float
    """Mean share."""
    true: float
    """How many of them were to blame, of all."""


def bins(runs: Sequence[Any]) -> list[Bin]:
    """Of failed runs that one group failed, each group of each run counted."""
    pairs = np.array([(share, g == b.true) for b in runs for g, share in b.shares.items() if g])
    found = []
    for low, high in pairwise(_ENDS):
        within = (pairs[:, 0] >= low) & ((pairs[:, 0] < high) | (high == _ENDS[-1]))
        if within.any():
            found.append(Bin(low, high, int(within.sum()), *pairs[within].mean(axis=0)))
    return found


def draw(series: dict[str, Sequence[Any]], path: Path) -> None:
    """Stated against true, with two standard errors of each bin; on the line all is as stated."""
    import matplotlib as mpl

    mpl.use("agg")
    from matplotlib.figure import Figure

    figure = Figure(figsize=(6, 5.4), layout="constrained")
    axes = figure.add_subplot()
    axes.plot([0, 1], [0, 1], color="0.6", linestyle=":", label="as stated")
    for (label, runs), marker in zip(series.items(), "osD^", strict=False):
        found = bins(runs)
        errors = [2 * np.sqrt(max(b.true * (1 - b.true), 0.01) / b.groups) for b in found]
        stated, true = [b.stated for b in found], [b.true for b in found]
        axes.errorbar(stated, true, errors, marker=marker, capsize=3, label=label)
    axes.set(xlabel="share of the blame stated", ylabel="share of groups truly to blame")
    axes.legend()
    figure.savefig(path, dpi=120)
