"""An edited study.toml applies from the next question on; what was run before stays as it was."""

from pathlib import Path
from typing import Any

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.entries.definitions import defined_entry
from planner.errors import DefinitionError, StudyMissing
from planner.history import History
from tests.domain.makers import clock, mode, tables
from tests.study.makers import bench_tables, events_of, on_disk, write


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the study lies."""
    return tmp_path / "study"


def with_knob(**changes: Any) -> dict[str, Any]:
    """The study's tables with changes to the clock."""
    given = bench_tables()
    given["knob"][0] |= changes
    return given


def test_nothing_edited_nothing_written(folder: Path) -> None:
    """Saved anew with the same text, or asked again."""
    study = on_disk(folder)
    head = study.head
    write(folder, bench_tables())
    assert study.adopt() is False
    assert study.head == head
    assert Study.create(bench_tables()).adopt() is False


def test_two_windows_that_take_an_edit_over_at_once_write_it_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between looking and writing the other one has taken it over: nothing is left to do."""
    one, other = on_disk(folder), Study.open(folder)
    write(folder, with_knob(high=4900))
    meanwhile = [other.adopt]

    def entry(known: History | None, text: str) -> dict[str, Any]:
        if meanwhile:
            assert meanwhile.pop()() is True
        return defined_entry(known, text)

    monkeypatch.setattr("planner.journal.defined_entry", entry)
    assert one.adopt() is False
    assert [event.kind for event in events_of(one)] == [Kind.DEFINED, Kind.DEFINED]
    assert (
        one.history.definition.knobs["clock"].grid == other.history.definition.knobs["clock"].grid
    )


def test_the_whole_text_is_kept(folder: Path) -> None:
    """Comments too: the ledger alone tells what was defined when."""
    study = on_disk(folder)
    text = "# cooler evening\n" + (folder / "study.toml").read_text(encoding="utf-8")
    (folder / "study.toml").write_text(text, encoding="utf-8")
    assert study.adopt() is True
    assert events_of(study)[-1].body == {"text": text}
    assert study.history.definition.text == text


def test_each_run_keeps_the_definition_it_was_made_under(folder: Path) -> None:
    """By its place among the definitions."""
    study = on_disk(folder)
    for number, high in enumerate((5000, 4900, 4800)):
        write(folder, with_knob(high=high))
        study.adopt()
        assert study.record("pass", settings={"clock": 4300}).definition == number
    grids = [
        study.history.definitions[r.definition].knobs["clock"].grid for r in study.history.runs
    ]
    assert [grid.high for grid in grids] == [5000, 4900, 4800]


@pytest.mark.parametrize(
    ("changes", "highest"),
    [({"high": 4400}, 4400), ({"everyday": 4450}, 4400), ({"hard_stop": 4300}, 4300)],
)
def test_narrowed_ranges_and_moved_ceilings_apply(
    folder: Path, changes: dict[str, float], highest: float
) -> None:
    """From `next` on; widened again, so are the proposals."""
    study = on_disk(folder)
    write(folder, with_knob(**changes))
    for _ in range(4):
        asked = study.next()
        if asked is None:
            break
        assert asked.settings["clock"] <= highest
        study.record("pass")
    write(folder, with_knob())
    assert study.next().settings["clock"] > highest


def test_a_lowered_ceiling_closes_what_was_accepted(folder: Path) -> None:
    """Acceptance reaches to own-risk as it stands now, and no further."""
    study = on_disk(folder, with_knob(everyday=4300, own_risk=4800))
    study.accept_risk("clock", 4700)
    assert study.next().settings["clock"] > 4400
    write(folder, with_knob(everyday=4300, own_risk=4400, hard_stop=4900))
    assert study.next().settings["clock"] <= 4400
    write(folder, with_knob(everyday=4300))
    assert study.next().settings["clock"] <= 4300


def test_runs_before_a_knob_was_there_ran_it_at_stock(folder: Path) -> None:
    """And stay evidence."""
    study = on_disk(folder, tables(clock()))
    study.record("pass", settings={"clock": 4500})
    write(folder, tables(clock(), mode()))
    study.adopt()
    assert study.history.runs[0].ran == {"clock": 4500.0, "mode": "a"}
    assert study.history.machine == {"clock": 4500.0, "mode": "a"}
    assert study.next().settings["clock"] > 4500


def test_a_knob_that_went_no_longer_tells_runs_apart(folder: Path) -> None:
    """Evidence and machine speak of the knobs of today; the ledger keeps the old ones."""
    study = on_disk(folder, tables(clock(), mode()))
    study.record("pass", settings={"clock": 4500, "mode": "b"})
    write(folder, tables(clock()))
    asked = study.next()
    assert study.history.runs[0].ran == study.history.machine == {"clock": 4500.0}
    assert set(asked.settings) == {"clock"}
    assert study.record("pass", settings=asked.settings).number == asked.number
    write(folder, tables(clock(), mode()))
    assert study.next().settings["mode"] == "a"


BROKEN = ["[study", "", "[[knob]]\nname = 'clock'\n", "\x00", "[study]\naim = 'win'\n"]


@pytest.mark.parametrize("text", BROKEN)
def test_a_broken_file_stops_next_and_nothing_else(folder: Path, text: str) -> None:
    """`next` names the file and writes nothing; record, amend and what is shown go on."""
    study = on_disk(folder)
    asked = study.next()
    (folder / "study.toml").write_text(text, encoding="utf-8")
    head = study.head
    with pytest.raises(DefinitionError, match=r"study\.toml"):
        study.next()
    assert study.head == head
    for window in (study, Study.open(folder)):
        assert window.pending == asked
        assert window.recommendation().settings.keys() == asked.settings.keys()
        assert window.edges().keys() == asked.settings.keys()
    assert study.record("pass").number == asked.number
    study.amend(asked.number, score=900)
    write(folder, bench_tables())
    assert study.next().number == 2


def test_a_missing_file_stops_next_alone(folder: Path) -> None:
    """The ledger tells the definition."""
    study = on_disk(folder)
    study.next()
    (folder / "study.toml").unlink()
    with pytest.raises(StudyMissing, match=r"study\.toml"):
        study.next()
    assert Study.open(folder).record("pass").number == 1


def test_a_folder_that_the_person_made_by_hand(folder: Path) -> None:
    """A study.toml alone is a study: opened, it is taken over; created over, it is refused."""
    folder.mkdir()
    write(folder, bench_tables())
    with pytest.raises(StudyMissing, match="holds a study already"):
        Study.create(bench_tables(), folder)
    study = Study.open(folder)
    assert [event.kind for event in events_of(study)] == [Kind.DEFINED]
    assert study.next().number == 1
    for missing in (folder / "nowhere", folder.parent / "x"):
        with pytest.raises(StudyMissing):
            Study.open(missing)
