"""The score of a run: from the workload's output, or from the file that it wrote."""

import json
import os
from math import isfinite
from pathlib import Path
from typing import Any

from planner.domain.drive import Drive

_LONGEST_LINE = 2_000
_LONGEST_FILE = 1_000_000

Stamp = tuple[int, int, int] | None
"""Tells one writing of a file from another; None: there is no such file."""


def stamp(drive: Drive, folder: Path) -> Stamp:
    """The score file as it stands before a run, so that an old score is not taken for a new one."""
    if not drive.score_file:
        return None
    try:
        found = os.stat(folder / drive.score_file)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


def score_facts(drive: Drive, folder: Path, before: Stamp, output: str) -> dict[str, Any]:
    """`score` and `subscores` as far as they were told; otherwise a `note` that says why not."""
    facts: dict[str, Any] = {}
    if drive.score is not None:
        lines = (line[:_LONGEST_LINE] for line in reversed(output.splitlines()))
        texts = (m[-1] for line in lines if (m := drive.score.findall(line)))
        score = _number_or_none(next(texts, ""))
        facts |= {"note": "no score in the output"} if score is None else {"score": score}
    if drive.score_file:
        facts |= _from_file(folder, drive.score_file, before, stamp(drive, folder))
    return facts


def _from_file(folder: Path, name: str, before: Stamp, after: Stamp) -> dict[str, Any]:
    path = (folder / name).resolve()
    if after is None or after == before:
        return {"note": f"{name} was not written"}
    if not path.is_relative_to(folder.resolve()) or not path.is_file():
        return {"note": f"{name} is no file inside the study's folder"}
    if after[1] > _LONGEST_FILE:
        return {"note": f"{name} is too long"}
    try:
        told = json.loads(path.read_bytes())
        return _read(told)
    except (OSError, ValueError, TypeError, AttributeError, RecursionError):
        return {"note": f"{name}: expected a score, and subscores by name, as JSON numbers"}


def _read(told: Any) -> dict[str, Any]:
    facts: dict[str, Any] = {}
    if told.get("score") is not None:
        facts["score"] = _number(told["score"])
    if told.get("subscores"):
        facts["subscores"] = {str(n): _number(v) for n, v in told["subscores"].items()}
    return facts


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
        raise TypeError(value)
    return float(value)


def _number_or_none(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if isfinite(value) else None
