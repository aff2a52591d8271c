"""A study's export, taken into a fresh study, tells it all that the first one knows."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.domain.run import Run
from planner.report.tables.runs import run_table
from tests.importing.makers import copied, csv_of, lab, rows, take
from tests.study.makers import bench_tables, holding, look, on_disk, write
from tests.study.stories import Facts, histories, mend, record, runs

pytestmark = pytest.mark.slow

ANEW = ("run", "time", "bench", "amended", "proposed", "origin")
"""Columns that the second study tells of itself: it recorded them, now, as a person's own."""
NOT_EVIDENCE = ("number", "asked", "bench", "time", "amended", "origin", "definition")
texts = st.text(st.characters(exclude_categories=["C", "Z"], include_characters=" "), max_size=60)
starts = st.sampled_from(["", "=", "+", "-", "@", "'", "'='", '"', ";", " "])
numbers = st.floats(0, 1e12, exclude_max=True)


def kept(study: Study) -> list[dict[str, str]]:
    """The export's rows without what is told anew."""
    return [
        {name: cell for name, cell in row.items() if name not in ANEW}
        for row in rows(run_table(study.history))
    ]


def evidence(run: Run) -> dict[str, Any]:
    """All of a run that a strategy may look at."""
    return {name: value for name, value in run._asdict().items() if name not in NOT_EVIDENCE}


@given(histories, st.data())
@settings(max_examples=40)
def test_the_next_proposal_is_the_same(told: list[Facts], data: st.DataObject) -> None:
    """After own runs, answers and amendments, with every run's evidence, minutes and boot alike."""
    first = Study.create(bench_tables())
    for facts in told:
        number = record(first, facts)
        if data.draw(st.booleans()):
            mend(first, number, data.draw(runs()))
        if data.draw(st.booleans()) and (asked := first.next()) is not None:
            first.record(holding(4600)(asked.settings))
    second = copied(first)
    assert [*map(evidence, second.history.runs)] == [*map(evidence, first.history.runs)]
    assert second.recommendation() == first.recommendation()
    assert look(second.next()) == look(first.next())


@given(histories)
@settings(max_examples=40)
def test_exporting_what_was_imported_changes_nothing(told: list[Facts]) -> None:
    """A fixed point; and from then on the origins stay too."""
    first = Study.create(bench_tables())
    for facts in told:
        record(first, facts)
    second = copied(first)
    third = copied(second)
    assert kept(second) == kept(first)
    assert kept(third) == kept(second)
    assert [run.origin for run in third.history.runs] == [r.origin for r in second.history.runs]


@st.composite
def odd_runs(draw: st.DrawFn) -> Facts:
    """Texts that a spreadsheet or a CSV reader could take amiss, numbers to the last bit."""
    return {
        "outcome": "pass",
        "settings": {
            "clock": draw(st.floats(-1e9, 1e9)),
            "mode": draw(st.sampled_from(["auto", 1, 2.5])),
        },
        "actual": draw(st.none() | st.fixed_dictionaries({"volts": st.floats(-9, 9)})),
        "symptom": draw(starts) + draw(texts),
        "note": draw(starts) + draw(texts),
        "readings": {"hot": draw(st.floats(-1e300, 1e300)), "unheard_of": draw(numbers)},
        "subscores": {"pack [a]": draw(numbers)},
        "minutes": draw(st.floats(0, 10_080)),
        "capped": draw(st.sampled_from([None, "power", "score"])),
    }


@given(st.lists(odd_runs(), min_size=1, max_size=4))
@settings(max_examples=60)
def test_odd_texts_and_numbers_come_back(told: list[Facts]) -> None:
    """Character by character, and to the last bit."""
    first = Study.create(lab())
    for facts in told:
        record(first, facts)
    second = copied(first)
    assert kept(second) == kept(first)
    assert [*map(evidence, second.history.runs)] == [*map(evidence, first.history.runs)]


@given(histories)
@settings(max_examples=20)
def test_importing_again_changes_nothing(told: list[Facts]) -> None:
    """Into either study, the export of either one."""
    first = Study.create(bench_tables())
    for facts in told:
        record(first, facts)
    second = copied(first)
    for study, text in [(second, csv_of(first)), (second, csv_of(second)), (first, csv_of(second))]:
        head = study.head
        assert take(study, text) == []
        assert study.head == head


def test_a_knob_that_came_later_was_at_stock(tmp_path: Path) -> None:
    """Its cells are empty for runs from before it, and are read back as the stock value."""
    clock_alone, both = {"knob": lab()["knob"][:1]}, {"knob": lab()["knob"][:2]}
    first = on_disk(tmp_path / "first", clock_alone)
    first.record("pass", settings={"clock": 4500})
    write(tmp_path / "first", both)
    assert first.adopt()
    first.record("crash", settings={"clock": 4600, "volts": 1.25})
    second = Study.create(both)
    take(second, csv_of(first))
    assert [run.ran for run in second.history.runs] == [run.ran for run in first.history.runs]
    assert [row["set volts [V]"] for row in rows(run_table(first.history))] == ["", "1.25"]
