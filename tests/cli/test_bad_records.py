"""What a person may get wrong when recording: one message, exit code 2, nothing written."""

import pytest

from tests.cli.typed import ledger, made, planner, told

WRONG = {  # arguments, and what the message must name
    "nothing pending": (["record", "pass"], ["nothing is pending"]),
    "no such outcome": (["record", "crashed"], ["'crashed'", "crash"]),
    "no such pending run": (["record", "pass", "--number", 7], ["number = 7", "not pending"]),
    "a run on record": (["record", "pass", "--number", 1], ["run 1", "on record", "amend"]),
    "score is nan": (["record", "pass", "--as-is", "--score", "nan"], ["score", "'nan'"]),
    "score is infinite": (["record", "pass", "--as-is", "--score", "inf"], ["score", "'inf'"]),
    "score overflows": (["record", "pass", "--as-is", "--score", "1e400"], ["score", "finite"]),
    "score is negative": (["record", "pass", "--as-is", "--score", "-5"], ["score = -5", "from 0"]),
    "score is absurd": (["record", "pass", "--as-is", "--score", "1e15"], ["score", "1e+12"]),
    "score is a slip": (
        ["record", "pass", "--as-is", "--score", "5"],
        ["score = 5", "hundredfold"],
    ),
    "decimal comma": (
        ["record", "pass", "--as-is", "--score", "12,5"],
        ["score", "'12,5'"],
    ),
    "a score of a crash": (
        ["record", "crash", "--as-is", "--score", "900"],
        ["a crash has no score"],
    ),
    "errors without count": (["record", "errors", "--as-is"], ["errors = 1 or more"]),
    "errors of a pass": (["record", "pass", "--as-is", "--errors", 3], ["errors = 3", "pass"]),
    "half an error": (["record", "errors", "--as-is", "--errors", "1.5"], ["whole number"]),
    "stopped without time": (["record", "stopped", "--as-is"], ["run_minutes"]),
    "failed after its end": (
        ["record", "crash", "--as-is", "--failed-after", "2000s"],
        ["failed_after_s = 2000", "10 minutes"],
    ),
    "unknown knob": (["record", "pass", "--set", "clok=4500"], ["'clok'", "clock"]),
    "knob twice": (["record", "pass", "--set", "clock=1", "--set", "clock=2"], ["twice"]),
    "no value": (["record", "pass", "--set", "clock"], ["--set 'clock'", "NAME=VALUE"]),
    "wrong unit": (["record", "pass", "--set", "clock=4500mV"], ["clock", "'mV'", "MHz"]),
    "a slip in a reading": (["record", "pass", "--as-is", "--reading", "hotspt=9"], ["'hotspot'"]),
    "unknown workload": (["record", "pass", "--as-is", "--workload", "x"], ["'x'", "load"]),
    "unknown suspect": (["record", "crash", "--as-is", "--suspect", "cat"], ["'cat'", "clock"]),
    "lukewarm": (["record", "pass", "--as-is", "--boot", "lukewarm"], ["cold or warm"]),
    "escape in a note": (["record", "pass", "--as-is", "--note", "\x1b[2J"], ["printable"]),
    "more than a week": (["record", "pass", "--as-is", "--minutes", "99999"], ["10080"]),
    "amend no such run": (["amend", 9, "void"], ["run = 9", "not on record", "1"]),
    "amend nothing": (["amend", 1], ["run 1", "nothing to amend"]),
    "amend two outcomes": (["amend", 1, "void", "--outcome", "crash"], ["void", "crash", "which"]),
    "clear what is none": (["amend", 1, "--clear", "colour"], ["'colour'", "score"]),
    "clear the workload": (["amend", 1, "--clear", "workload"], ["workload", "expected a value"]),
    "unknown group": (["changed", "firmware", "--group", "lamp"], ["'lamp'", "core"]),
    "nothing changed": (["changed", "  "], ["in a few words"]),
    "no boot": (["boot", "tepid"], ["'tepid'", "cold"]),
    "reason with an escape": (["close", "--reason", "\x1b[2J"], ["printable"]),
    "no head": (["check", "--head", "abc"], ["'abc'", "SEQ:HASH"]),
}


@pytest.mark.parametrize(("arguments", "named"), WRONG.values(), ids=WRONG)
def test_a_slip_is_refused(arguments: list[object], named: list[str]) -> None:
    """Exit code 2, the message names what was wrong and what was expected, no byte changes."""
    folder = made()
    told("record", "pass", "--as-is", "--score", "1000")
    before = ledger(folder)
    refused = planner(*arguments)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert [name for name in named if name not in refused.stderr] == []
    assert "\x1b" not in refused.stderr
    assert ledger(folder) == before
