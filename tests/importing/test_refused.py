"""Files that cannot be taken: each fault by line, column, value and what was expected."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.errors import InputError
from tests.importing.makers import csv_of, lab, planned, refused, take

WRONG = {  # a file, and what the message must name
    "empty": (b"", ["is empty"]),
    "blank": (b" \n\r\n\t\n", ["is empty"]),
    "a mark alone": (b"\xef\xbb\xbf", ["is empty"]),
    "headings alone": (b"outcome,clock\r\n", ["no row below its headings"]),
    "binary": (bytes(range(256)), ["line 1", "NUL"]),
    "a picture": (b"\x89PNG\r\n\x1a\n\x00\x00", ["line 3", "NUL"]),
    "NUL in a cell": (b"outcome,clock\npass,45\x0000\n", ["line 2", "NUL"]),
    "UTF-16": ("outcome,clock\npass,4500\n".encode("utf-16"), ["UTF-16", "UTF-8"]),
    "Latin-1": ("outcome,clock,note\npass,4500,21 \xb0C\n".encode("latin-1"), ["line 2", "0xb0"]),
    "a long line": (b"outcome,clock\n" + b"x" * 10_000_000, ["line 2", "1000000 bytes"]),
    "a long cell": (b"outcome,clock\npass," + b"4" * 200_000, ["line 2", "131072"]),
    "a quote left open": (b'outcome,clock\npass,"4500\n', ["line 2", "CSV"]),
    "after a quote": (b'outcome,clock\npass,"45"00\n', ["line 2", "CSV"]),
    "no outcome": (b"clock\n4500\n", ["line 1", "no column 'outcome'", "crash"]),
    "no knob": (b"outcome,score\npass,1\n", ["line 1", "no column of a knob", "'set volts'"]),
    "a slip in a heading": (b"outcome,clok\npass,1\n", ["line 1", "'clok'", "'clock'"]),
    "a slip after set": (b"outcome,set clok [MHz]\npass,1\n", ["'set clok [MHz]'", "clock"]),
    "no such column": (b"outcome,clock,weather\npass,1,2\n", ["'weather'", "not known", "volts"]),
    "another unit": (b"outcome,clock [V]\npass,1\n", ["'clock [V]'", "'V'", "expected MHz"]),
    "a unit of a text": (b"outcome,clock,note [V]\npass,1,a\n", ["'note [V]'", "expected none"]),
    "a column twice": (b"outcome,clock,clock\npass,1,2\n", ["'clock'", "2 times"]),
    "a knob told twice": (
        b"outcome,clock,set clock [GHz]\npass,1,2\n",
        ["line 2", "'set clock [GHz]'", "'clock'"],
    ),
    "a nameless column": (b"outcome,clock,\npass,4500,7\n", ["column 3", "no heading"]),
    "a short row": (b"outcome,clock\npass\n", ["line 2", "1 cells, expected 2"]),
    "a long row": (b"outcome,clock\npass,1,2\n", ["line 2", "3 cells, expected 2"]),
    "no outcome in a row": (b"outcome,clock\n,4500\n", ["line 2", "'outcome' is empty", "pass"]),
    "no such outcome": (b"outcome,clock\npassed,1\n", ["line 2", "'outcome' = 'passed'", "pass"]),
    "no number": (b"outcome,clock\npass,fast\n", ["line 2, column 'clock' = 'fast'", "in MHz"]),
    "a formula": (b"outcome,clock\npass,=1+2\n", ["line 2, column 'clock' = '=1+2'"]),
    "not finite": (b"outcome,clock\npass,1e999\n", ["line 2", "'clock'", "finite"]),
    "nan": (b"outcome,score,clock\npass,nan,1\n", ["'score' = 'nan'"]),
    "a decimal comma": (b'outcome,clock\npass,"4500,5"\n', ["'4500,5'", "decimal point"]),
    "thousands": (b"outcome;clock\npass;4.500,5\n", ["'4.500,5'", "comma"]),
    "a unit in a cell": (b"outcome,clock\npass,1.2V\n", ["'1.2V'", "'V'", "expected MHz"]),
    "no such choice": (b"outcome,mode\npass,3\n", ["'mode' = '3'", "one of auto, 1, 2.5"]),
    "score below zero": (b"outcome,clock,score\npass,1,-5\n", ["line 2", "'score'", "from 0"]),
    "half an error": (b"outcome,clock,errors\nerrors,1,1.5\n", ["'errors'", "whole number"]),
    "errors of a pass": (b"outcome,clock,errors\npass,1,3\n", ["line 2", "errors = 3", "pass"]),
    "a crash that scored": (b"outcome,clock,score\ncrash,1,9\n", ["line 2", "has no score"]),
    "stopped, no time": (b"outcome,clock\nstopped,1\n", ["line 2", "run_minutes"]),
    "no such workload": (b"outcome,clock,workload\npass,1,x\n", ["'workload'", "'x'", "load"]),
    "no such suspect": (b"outcome,clock,suspect\npass,1,cat\n", ["'suspect'", "'cat'"]),
    "no such cap": (b"outcome,clock,capped\npass,1,cat\n", ["'capped' = 'cat'", "power"]),
    "a lukewarm boot": (b"outcome,clock,boot\npass,1,tepid\n", ["'boot' = 'tepid'", "cold"]),
    "perhaps cold": (b"outcome,clock,cold\npass,1,maybe\n", ["'cold' = 'maybe'", "yes or no"]),
    "an escape": (b"outcome,clock,note\npass,1,\x1b[2J\n", ["'note'", "printable"]),
    "a long note": (b"outcome,clock,note\npass,1," + b"a" * 1001, ["'note'", "1000"]),
    "a slip in a reading": (b"outcome,clock,reading hto\npass,1,2\n", ["'hto'", "'hot'"]),
    "a score off by far": (
        b"outcome,clock,score\npass,1,5000\npass,1,5\n",
        ["line 3, column 'score'", "score = 5", "hundredfold"],
    ),
    "a long heading": (b"outcome,clock," + b"h" * 100_000 + b"\npass,1,2\n", ["not known"]),
    "a long reading": (b"outcome,clock,reading " + b"h" * 900 + b"\npass,1,2\n", ["not known"]),
    "commas alone": (b"," * 900_000, ["is empty"]),
    "many headings": (b"outcome,clock" + b",h" * 100_000, ["line 1", "at most 1000"]),
    "a run twice": (
        b"outcome,clock,run,bench,time\npass,1,7,left,t\ncrash,1,7,left,t\n",
        ["line 3", "run 7 of left, t", "line 2"],
    ),
}


@pytest.mark.parametrize(("text", "named"), WRONG.values(), ids=WRONG)
def test_a_file_that_cannot_be_taken_is_refused(text: bytes, named: list[str]) -> None:
    """File, line, column, value and expectation; nothing is written."""
    said = refused(Study.create(lab()), text)
    assert said.startswith("runs.csv: ")
    assert [name for name in named if name not in said] == []
    assert len(said) < 2500


def test_every_fault_is_named_in_the_order_of_lines() -> None:
    """Of cells that say nothing and of facts that cannot be, two in one row as well."""
    said = refused(
        Study.create(lab()),
        "outcome,clock,score,note\npass,4500,-1,\npass,fast,x,\npass,4500,1,ok\ncrash,4500,9,\n",
    )
    lines = said.split("\n")
    assert lines[0] == "runs.csv: 4 faults, nothing was recorded:"
    assert [line.strip()[:22] for line in lines[1:]] == [
        "line 2, column 'score'",
        "line 3, column 'clock'",
        "line 3, column 'score'",
        "line 5, score = 9: a c",
    ]


def test_no_more_than_ten_are_listed() -> None:
    """The others are counted."""
    said = refused(Study.create(lab()), "outcome,clock\n" + "pass,fast\n" * 25)
    assert said.splitlines()[0] == "runs.csv: 25 faults, nothing was recorded:"
    assert said.splitlines()[-1].strip() == "and 15 more"
    assert len(said.splitlines()) == 12


def test_the_last_row_spoils_all() -> None:
    """All or nothing."""
    study = Study.create(lab())
    said = refused(study, "outcome,clock\n" + "pass,4500\n" * 30 + "pass,\x7f\n")
    assert "line 32" in said
    assert study.history.runs == ()


def _sample() -> bytes:
    study = Study.create(lab())
    study.record("pass", settings={"clock": 4500}, score=900, note='a, "b"')
    study.record("crash", settings={"volts": 1.3}, failed_after_s=9.5, readings={"hot": 80})
    return csv_of(study).encode()


SAMPLE = _sample()
spoilt = st.lists(st.tuples(st.integers(0, len(SAMPLE) - 1), st.binary(max_size=3)), max_size=4)


@pytest.mark.slow
@given(spoilt)
@settings(max_examples=200)
def test_spoilt_bytes_are_refused_or_recorded(changes: list[tuple[int, bytes]]) -> None:
    """Never anything else: what is planned can be recorded, what cannot is named."""
    raw = bytearray(SAMPLE)
    for place, new in changes:
        raw[place : place + 1] = new
    study = Study.create(lab())
    said = ""
    try:
        plan = planned(study, bytes(raw))
    except InputError as error:
        said = str(error)
    if said:
        assert said.startswith("runs.csv: ")
    else:
        assert len(take(study, bytes(raw))) == len(plan.runs)
