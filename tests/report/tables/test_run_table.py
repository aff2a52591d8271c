"""The table of runs as kept text, and read back by programs that know nothing of the planner."""

import csv
import io
import json
import math
import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.history import History
from planner.report.tables.csv_text import csv_text
from planner.report.tables.document import run_document, runs_document
from planner.report.tables.runs import RunTable, run_table
from planner.report.text.json_form import json_text
from planner.run_table import FIXED, guarded, unguarded
from tests.importing.makers import lab, rows
from tests.report.values import evening
from tests.study.makers import on_disk, write

GOLDEN = Path(__file__).parent / "golden" / "runs.csv"
texts = st.text(st.characters(exclude_categories=["C", "Z"], include_characters=" "), max_size=40)
starts = st.sampled_from(["", "=", "+", "-", "@", "'", "'=", '"', ",", ";", "NA", "1e5", "00"])
numbers = st.floats(allow_nan=False, allow_infinity=False)


def told_on(history: History) -> History:
    """The history as if it had been told on one evening, so that it is the same every time."""
    runs = tuple(
        run._replace(time=f"2026-01-02T20:{run.number:02}:00Z", bench="left")
        for run in history.runs
    )
    return replace(history, runs=runs)


def sample() -> History:
    """Runs with a cell of every kind, texts that look like formulas among them."""
    study = Study.create(lab())
    record: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
        ("pass", {}, {"score": 900, "subscores": {"pack [a]": 12.5}, "workload": "load"}),
        ("crash", {"clock": 4800, "mode": 1}, {"failed_after_s": 85, "symptom": "=blank screen"}),
        ("pass", {"volts": 1.32}, {"actual": {"volts": 1.3125}, "capped": "heat", "boot": "cold"}),
        ("errors", {"clock": 4533.3}, {"errors": 3, "suspect": "volts", "note": 'a, "b" \u00b0C'}),
        ("void", {}, {"note": "'tis nothing", "minutes": 1.5}),
        ("pass", {"clock": 4500}, {"readings": {"hot": 97, "fan": 0.1 + 0.2}}),
    ]
    for outcome, setting, facts in record:
        study.record(outcome, settings=setting, **facts)
    study.amend(1, score=901)
    return told_on(study.history)


def test_the_table_is_as_kept() -> None:
    """Byte for byte; PLANNER_WRITE_GOLDEN=1 writes it anew."""
    text = csv_text(run_table(sample()))
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        GOLDEN.write_bytes(text.encode())
    assert text.encode() == GOLDEN.read_bytes()


def test_rows_end_as_rfc_4180_has_it() -> None:
    """Section 2: CRLF after each, as many cells in each as there are headings."""
    table = run_table(evening())
    lines = csv_text(table).split("\r\n")
    assert lines.pop() == ""
    assert len(lines) == 1 + len(evening().runs)
    assert {len(row) for row in table.rows} == {len(table.headings)}
    assert len(set(table.headings)) == len(table.headings)


@st.composite
def histories(draw: st.DrawFn) -> History:
    """Runs with texts that readers take amiss and numbers to the last bit."""
    study = Study.create(lab())
    for _ in range(draw(st.integers(1, 3))):
        study.record(
            "pass",
            settings={"clock": draw(numbers), "volts": draw(numbers)},
            readings={"hot": draw(numbers)},
            note=draw(starts) + draw(texts),
            symptom=draw(starts) + draw(texts),
        )
    return study.history


@given(histories())
@settings(max_examples=60)
def test_the_standard_library_reads_it_back(history: History) -> None:
    """Outside reference: the csv module, with its defaults; float() for numbers."""
    table = run_table(history)
    read = list(csv.reader(io.StringIO(csv_text(table), newline="")))
    assert RunTable(tuple(read[0]), tuple(map(tuple, read[1:]))) == table
    for row, run in zip(rows(table), history.runs, strict=True):
        assert (unguarded(row["note"]), unguarded(row["symptom"])) == (run.note, run.symptom)
        assert float(row["set clock [MHz]"]).hex() == float(run.settings["clock"]).hex()
        assert float(row["reading hot [C]"]).hex() == run.readings["hot"].hex()


@given(histories())
@settings(max_examples=60)
def test_pandas_reads_it_back(history: History) -> None:
    """Outside reference: read_csv as docs/run-table.md calls it."""
    text = "\ufeff" + csv_text(run_table(history))
    frame = pd.read_csv(
        io.BytesIO(text.encode()),
        keep_default_na=False,
        na_values={name: [""] for name in ("score", "errors", "failed_after_s")},
    )
    assert list(frame["run"]) == [run.number for run in history.runs]
    assert list(frame["set volts [V]"]) == [run.settings["volts"] for run in history.runs]
    assert list(frame["reading hot [C]"]) == [run.readings["hot"] for run in history.runs]
    texts_read = pd.read_csv(io.BytesIO(text.encode()), dtype=str, keep_default_na=False)
    assert list(texts_read["note"]) == [guarded(run.note) for run in history.runs]
    assert all(math.isnan(value) for value in frame["score"])


def test_no_cell_is_a_formula() -> None:
    """Nor is a heading; only numbers may begin with a sign."""
    study = Study.create(lab())
    study.record("pass", settings={"clock": -5}, note="=1+1", symptom="@a", readings={"hot": -1})
    for row in rows(run_table(study.history)):
        wrong = {name: cell for name, cell in row.items() if cell[:1] in tuple("=+-@\t\r")}
        wrong = {name: cell for name, cell in wrong.items() if cell}
        assert {float(cell) for cell in wrong.values()} == {-5.0, -1.0, -200.0}


def test_each_run_is_told_under_its_own_definition(tmp_path: Path) -> None:
    """A knob that is gone keeps its column; today's come first; a derived value is as it was."""
    given = lab()
    study = on_disk(tmp_path / "box", given)
    study.record("pass", settings={"clock": 4500, "ratio": 50})
    write(tmp_path / "box", {"knob": given["knob"][:1]})
    assert study.adopt()
    study.record("pass", settings={"clock": 4600})
    table = run_table(study.history)
    assert [name for name in table.headings if name.startswith("set ")] == [
        "set clock [MHz]",
        "set volts [V]",
        "set ratio [x]",
        "set mode",
    ]
    first, second = rows(table)
    assert (first["set ratio [x]"], first["derived fabric [MHz]"]) == ("50", "225000")
    assert (second["set ratio [x]"], second["derived fabric [MHz]"]) == ("", "")
    assert (first["definition"], second["definition"]) == ("1", "2")


def test_the_columns_follow_from_the_definition() -> None:
    """A study without runs has the headings of one with them."""
    study = Study.create(lab())
    empty = run_table(study.history)
    study.record("pass", settings={"clock": 4800, "volts": 1.1}, actual={"clock": 4700})
    assert run_table(study.history).headings == empty.headings
    assert empty.headings[: len(FIXED)] == FIXED
    assert empty.rows == ()


def test_what_is_at_own_risk_is_marked() -> None:
    """By name; what really ran counts."""
    study = Study.create(lab())
    study.record("pass", settings={"volts": 1.3})
    study.record("pass", settings={"volts": 1.3}, actual={"volts": 1.2})
    assert [row["at_own_risk"] for row in rows(run_table(study.history))] == ["volts", ""]


def test_json_tells_the_same_as_show() -> None:
    """Every key of a run there, and with it the definition that was in force."""
    history = sample()
    document = json.loads(json_text(runs_document(history)))
    assert document["schema"] == 1
    assert set(document) == {"schema", "study", "definitions", "runs"}
    for told, run in zip(document["runs"], history.runs, strict=True):
        shown = json.loads(json.dumps(run_document(history.definition, run)))
        assert {name: told[name] for name in shown} == shown
        assert set(told) - set(shown) == {"derived", "definition", "changes_told", "origin"}
        definition = document["definitions"][told["definition"] - 1]
        assert definition["text"] == history.definitions[run.definition].text
        assert set(told["derived"]) == set(definition["units"]["derived"]) == {"fabric"}


def test_json_tells_the_same_as_the_table() -> None:
    """Cell by cell, where both have one."""
    history = sample()
    for told, row in zip(runs_document(history)["runs"], rows(run_table(history)), strict=True):
        for name in ("run", "run_minutes", "minutes", "failed_after_s", "errors", "score", "boot"):
            assert (float(row[name]) if row[name] else None) == told[name]
        for name in ("time", "bench", "workload", "symptom", "suspect", "note", "origin"):
            assert unguarded(row[name]) == told[name]
        assert row["set clock [MHz]"] == repr(told["settings"]["clock"]).removesuffix(".0")


@pytest.mark.parametrize("facts", [{}, {"note": "x" * 1000}])
def test_rendering_changes_nothing(facts: dict[str, Any]) -> None:
    """The same history gives the same bytes."""
    study = Study.create(lab())
    study.record("pass", settings={}, **facts)
    assert csv_text(run_table(study.history)) == csv_text(run_table(study.history))
