"""The `[drive]` table."""

import re
from pathlib import PurePosixPath, PureWindowsPath

from planner.domain.drive import Command, Drive
from planner.domain.table import Table

_MOST_ARGUMENTS = 100
_LONGEST = 4000
"""Characters of one argument."""


def parse_drive(table: Table) -> Drive:
    """The `[drive]` table."""
    drive = Drive(
        apply=_command(table, "apply"),
        workload=_command(table, "workload"),
        restore=_command(table, "restore"),
        probe=_command_or_none(table, "probe"),
        heartbeat=_command_or_none(table, "heartbeat"),
        reset=_command_or_none(table, "reset"),
        score=_pattern(table),
        score_file=_inside(table, "score_file"),
        grace_minutes=_above_zero(table, "grace_minutes", 2.0, "min", 1440),
        apply_minutes=_above_zero(table, "apply_minutes", 1.0, "min", 60),
        probe_seconds=_above_zero(table, "probe_seconds", 5.0, "s", 600),
        heartbeat_seconds=_above_zero(table, "heartbeat_seconds", 5.0, "s", 600),
        heartbeat_misses=table.whole_or("heartbeat_misses", 3, 1, 100),
        boot_minutes=_above_zero(table, "boot_minutes", 3.0, "min", 120),
    )
    if drive.reset and not drive.heartbeat:
        raise table.fail("reset", list(drive.reset), "a heartbeat beside it, which tells a hang")
    table.done()
    return drive


def _command(table: Table, key: str) -> Command:
    value = table.required(key)
    if isinstance(value, str):
        raise table.fail(key, value, 'a list of arguments, as ["python3", "set.py"]; no shell')
    if not isinstance(value, (list, tuple)) or not 0 < len(value) <= _MOST_ARGUMENTS:
        raise table.fail(key, value, f"a list of 1 to {_MOST_ARGUMENTS} texts")
    for text in value:
        if not isinstance(text, str) or len(text) > _LONGEST or "\0" in text:
            raise table.fail(key, text, f"texts of at most {_LONGEST} characters, no NUL in them")
    if not value[0]:
        raise table.fail(key, list(value), "a program's name first")
    return tuple(value)


def _command_or_none(table: Table, key: str) -> Command:
    return _command(table, key) if table.peek(key) is not None else ()


def _pattern(table: Table) -> re.Pattern[str] | None:
    text = table.text_or("score", at_most=200)
    if not text:
        return None
    try:
        pattern = re.compile(text)
    except (re.error, RecursionError, OverflowError) as error:
        raise table.fail("score", text, f"a regular expression ({error})") from None
    if pattern.groups != 1:
        raise table.fail("score", text, "a regular expression with exactly one group")
    return pattern


def _inside(table: Table, key: str) -> str:
    text = table.text_or(key, at_most=200)
    posix, windows = PurePosixPath(text), PureWindowsPath(text)
    if posix.is_absolute() or windows.anchor or ".." in (*posix.parts, *windows.parts):
        raise table.fail(key, text, "a path inside the study's folder")
    return text


def _above_zero(table: Table, key: str, default: float, unit: str, at_most: float) -> float:
    value = table.number_or(key, default, unit)
    if not 0 < value <= at_most:
        raise table.fail(key, value, f"more than 0 and at most {at_most:g}")
    return value
