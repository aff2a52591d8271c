"""The tables of a definition that hold commands: `[drive]`, and `[workload.launch]`."""

import re
from collections.abc import Container, Mapping, Set
from pathlib import PurePosixPath, PureWindowsPath
from typing import Any

from planner.domain.launch import PLACES, Command, Drive, Judging, Launch, Watch
from planner.domain.outcome import Outcome
from planner.domain.table import Table

MOST_WORDS = 200
LONGEST_WORD = 2000
LONGEST_PATTERN = 300
_PLACE = re.compile(r"\{(\w+)\}")
_ENDS = (Outcome.PASS, Outcome.CRASH, Outcome.ERRORS, Outcome.WRONG_RESULT, Outcome.VOID)
"""What an exit status may mean."""
_DAY_S = 86_400.0


def parse_drive(given: Any, where: str, knobs: Set[str]) -> Drive | None:
    """The `[drive]` table; None where there is none."""
    if given is None:
        return None
    table = Table(given, where)
    limit_s = _seconds(table, "limit", 60.0)
    apply = _command(table, "apply", limit_s, knobs)
    if apply is None:
        raise table.missing("apply")
    drive = Drive(
        apply=apply,
        restore=_command(table, "restore", limit_s, knobs),
        reset=_command(table, "reset", limit_s, knobs),
        probe=_watch(table, "probe", knobs, misses=1),
        heartbeat=_watch(table, "heartbeat", knobs, misses=3),
        boot_s=_seconds(table, "boot", 180.0),
        no_starts=table.whole_or("no_starts", 2, 1, 100),
        failures=table.whole_or("failures", 6, 1, 1000),
    )
    table.done()
    return drive


def parse_launch(
    table: Table, minutes: float, knobs: Set[str], parts: Container[str]
) -> Launch | None:
    """The `launch` table of a workload of so many minutes; None where there is none.

    `parts`: the names of its subscores.
    """
    given = table.take("launch")
    if given is None:
        return None
    launch = Table(given, f"{table.where}: launch")
    until_stopped = launch.flag_or("until_stopped", False)
    usual = minutes * 60 if until_stopped else minutes * 90 + 30
    limit_s = _seconds(launch, "limit", usual)
    if limit_s < minutes * 60:
        raise launch.fail("limit", limit_s, f"at least the workload's {minutes:g} minutes")
    command = _command(launch, "command", limit_s, knobs)
    if command is None:
        raise launch.missing("command")
    found = Launch(
        command,
        _judging(launch, parts),
        until_stopped,
        launch.share_or("least", 0.5) * minutes * 60,
    )
    launch.done()
    return found


def _command(table: Table, key: str, limit_s: float, knobs: Set[str]) -> Command | None:
    value = table.take(key)
    if value is None:
        return None
    if isinstance(value, Mapping):
        line = Table(value, f"{table.where}: {key}")
        text = line.required("shell")
        line.done()
        _check_word(table, key, text)
        return Command((text,), limit_s, shell=True)
    if not isinstance(value, (list, tuple)) or not 0 < len(value) <= MOST_WORDS:
        raise table.fail(
            key, value, 'a list, the program and its arguments, or { shell = "a line" }'
        )
    for word in value:
        _check_word(table, key, word)
        for place in _PLACE.findall(word):
            if place not in knobs and place not in PLACES:
                known = ", ".join((*PLACES, *knobs))
                raise table.fail(key, word, f"in braces one of {known}")
    if not value[0] or _PLACE.search(value[0]):
        raise table.fail(key, value[0], "the program's own name or path, with nothing in braces")
    return Command(tuple(value), limit_s)


def _check_word(table: Table, key: str, word: object) -> None:
    if not isinstance(word, str) or len(word) > LONGEST_WORD or not word.isprintable():
        raise table.fail(key, word, f"texts of at most {LONGEST_WORD} printable characters")


def _seconds(table: Table, key: str, default: float) -> float:
    value = table.number_or(key, default, "s")
    if not 0 < value <= 7 * _DAY_S:
        raise table.fail(key, value, "seconds, more than 0 and at most a week")
    return value


def _watch(table: Table, key: str, knobs: Set[str], misses: int) -> Watch | None:
    value = table.take(key)
    if value is None:
        return None
    inner = Table(value, f"{table.where}: {key}")
    every_s = _seconds(inner, "every", 2.0)
    command = _command(inner, "command", _seconds(inner, "limit", 5.0), knobs)
    if command is None:
        raise inner.missing("command")
    watch = Watch(command, every_s, inner.whole_or("misses", misses, 1, 1000))
    inner.done()
    return watch


def _judging(table: Table, parts: Container[str]) -> Judging:
    exits = {0: Outcome.PASS}
    for status, outcome in _table(table, "exits").items():
        if not str(status).isdecimal() or len(str(status)) > 5 or outcome not in _ENDS:
            expected = "exit statuses with one of " + ", ".join(_ENDS)
            raise table.fail("exits", {status: outcome}, expected)
        exits[int(status)] = Outcome(outcome)
    subscores = _table(table, "subscores")
    for name in subscores:
        if name not in parts:
            raise table.fail("subscores", name, "names that the workload lists in subscores")
    return Judging(
        exits,
        score=_pattern(table, "score", table.take("score")),
        subscores={n: _pattern(table, f"subscores.{n}", p) for n, p in subscores.items()},
        errors=_pattern(table, "errors", table.take("errors")),
        wrong=_pattern(table, "wrong", table.take("wrong"), groups=0),
        result_file=_inside(table, "result_file"),
    )


def _table(table: Table, key: str) -> Mapping[Any, Any]:
    value = table.take(key)
    if value is None:
        return {}
    if not isinstance(value, Mapping) or len(value) > 100:
        raise table.fail(key, value, "a table")
    return value


def _pattern(table: Table, key: str, value: Any, groups: int = 1) -> str:
    if value is None:
        return ""
    if not isinstance(value, str) or len(value) > LONGEST_PATTERN:
        raise table.fail(key, value, f"a regular expression of at most {LONGEST_PATTERN} letters")
    try:
        compiled = re.compile(value)
    except (re.error, OverflowError, RecursionError) as error:
        raise table.fail(key, value, f"a regular expression ({error})") from None
    if compiled.groups < groups:
        raise table.fail(key, value, "a group in brackets around the number")
    return value


def _inside(table: Table, key: str) -> str:
    """The path of a file inside the study's folder, on every system."""
    value = table.text_or(key, at_most=200)
    posix, windows = PurePosixPath(value), PureWindowsPath(value)
    if posix.is_absolute() or windows.drive or windows.root or ".." in windows.parts:
        raise table.fail(key, value, "a path inside the study's folder")
    return value
