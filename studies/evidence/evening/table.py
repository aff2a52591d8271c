"""Figures of many evenings, as Markdown tables."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np
from reliability import bins

MARKS = (60.0, 120.0, 180.0)
_HEAD = ("competitor", "at 60 min", "at 120", "at 180", "worst 5 % at 180", "crashes, first hour")


def table(found: Mapping[str, Sequence[Any]]) -> str:
    """Shares of the possible gain with standard errors over rigs, one row a competitor."""
    rows = []
    for name, evenings in found.items():
        shares = [[_share(e.points, mark) for e in evenings] for mark in MARKS]
        crashes = [_crashes(e.points, MARKS[0]) for e in evenings]
        rows.append(
            [
                name,
                *(with_error(s) for s in shares),
                f"{np.quantile(shares[-1], 0.05):.2f}",
                with_error(crashes),
            ]
        )
    return markdown(_HEAD, rows)


def stated(evenings: Sequence[Any]) -> str:
    """What the planner stated beside the truth."""
    asked = np.array([pair for e in evenings for pair in e.said.asked])
    rows = [["chance of proposals", f"{asked[:, 0].mean():.3f}", f"{asked[:, 1].mean():.3f}"]]
    for low, high in ((0.0, 0.25), (0.25, 0.5), (0.5, 0.75), (0.75, 1.01)):
        here = asked[(asked[:, 0] >= low) & (asked[:, 0] < high)]
        if len(here):
            label = f"proposals stated at {low:.2f} to {min(high, 1):.2f} ({len(here)})"
            rows.append([label, f"{here[:, 0].mean():.3f}", f"{here[:, 1].mean():.3f}"])
    for i, mark in enumerate(MARKS):
        kept = np.array([e.said.kept[i] for e in evenings if len(e.said.kept) > i])
        if len(kept):
            label = f"recommendation at {mark:.0f} min"
            rows.append([label, f"{kept[:, 0].mean():.3f}", f"{kept[:, 1].mean():.3f}"])
    text = markdown(("", "stated", "true"), rows)
    told = _blamed("blame, as told", [b for e in evenings for b in e.said.blamed])
    later = _blamed(
        "blame, at the evening's end", [b for e in evenings for b in e.said.looked_back]
    )
    return "\n\n".join([text, told, later])


def _blamed(label: str, runs: Sequence[Any]) -> str:
    """How the blame does: first place, log score against equal shares of the moved groups."""
    every = [b for b in runs if b.true]
    if not every:
        return f"{label}: no failed run"
    first = np.mean([max(b.shares, key=b.shares.__getitem__) == b.true for b in every])
    ours = np.mean([np.log(max(b.shares.get(b.true, 0.0), 1e-3)) for b in every])
    equal = np.mean([np.log(1 / len(b.moved)) if b.moved else 0.0 for b in every])
    lines = [
        f"{label}: {len(every)} failed runs that one group failed; that group first in"
        f" {first:.2f}; log score {ours:.2f}, equal among the groups moved {equal:.2f}",
    ]
    rows = [
        [f"{b.low:.1f} to {b.high:.1f}", b.groups, f"{b.stated:.2f}", f"{b.true:.2f}"]
        for b in bins(every)
    ]
    return "\n".join([*lines, "", markdown(("share stated", "groups", "mean", "true"), rows)])


def _share(points: Sequence[Any], mark: float) -> float:
    done = [p.share for p in points if p.minutes <= mark]
    return done[-1] if done else 0.0


def _crashes(points: Sequence[Any], mark: float) -> float:
    done = [p.failed for p in points if p.minutes <= mark]
    return float(np.mean(done)) if done else 0.0


def with_error(values: Sequence[float]) -> str:
    """Mean and standard error."""
    error = np.std(values, ddof=1) / np.sqrt(len(values)) if len(values) > 1 else 0.0
    return f"{np.mean(values):.3f} ± {error:.3f}"


def markdown(head: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """A Markdown table."""
    lines = ["| " + " | ".join(str(c) for c in cells) + " |" for cells in (head, *rows)]
    return "\n".join([lines[0], "|" + "---|" * len(head), *lines[1:]])
