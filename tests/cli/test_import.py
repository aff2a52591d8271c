"""planner import: all of a file or nothing, and what is said of it."""

import sys
from pathlib import Path

import pytest

from planner.errors import LedgerUnwritable
from planner.study import Study
from tests.cli.typed import STUDY, ledger, made, planner, told

TABLE = "outcome,clock,volts,note\npass,4500,1.3,high\ncrash,4.6GHz,,\n"


@pytest.fixture
def folder() -> Path:
    """A study without runs, and a table beside it."""
    Path("runs.csv").write_text(TABLE, encoding="utf-8")
    return made()


def test_runs_are_recorded_as_the_persons_own(folder: Path) -> None:
    """The summary counts them and marks what lies above a ceiling."""
    said = told("import", "runs.csv")
    assert "Recorded 2 runs from runs.csv, runs 1 to 2: 1 pass, 1 crash." in said.stdout
    assert "AT YOUR OWN RISK: above the everyday ceiling of volts: run 1" in said.stdout
    assert "Not told, so taken to be at stock: volts 1.2 V in 1 run, ratio 40x." in said.stdout
    assert said.stderr == ""
    runs = Study.open(folder).history.runs
    assert [(run.asked, run.settings["clock"], run.settings["volts"]) for run in runs] == [
        (None, 4500.0, 1.3),
        (None, 4600.0, 1.2),
    ]


def test_each_run_is_an_entry_of_its_own(folder: Path) -> None:
    """So a power cut costs none that was confirmed."""
    before = ledger(folder).count(b"\n")
    told("import", "runs.csv")
    assert ledger(folder).count(b"\n") == before + 2


def test_a_dry_run_writes_nothing(folder: Path) -> None:
    """Not a byte in the study's folder; it shows what would be recorded."""
    before = {file: file.read_bytes() for file in folder.iterdir()}
    said = told("import", "runs.csv", "--dry-run").stdout
    assert "2 runs to record from runs.csv; nothing was written." in said
    assert "AT YOUR OWN RISK clock 4500 MHz, volts 1.3 V" in said
    after = {file: file.read_bytes() for file in folder.iterdir()}
    assert {f: b for f, b in after.items() if not f.name.endswith(".lock")} == {
        f: b for f, b in before.items() if not f.name.endswith(".lock")
    }


def test_one_bad_row_and_nothing_is_recorded(folder: Path) -> None:
    """Exit code 2; each fault on a line of its own."""
    Path("runs.csv").write_text(TABLE + "pass,fast,,\nmeow,1,,\n", encoding="utf-8")
    before = ledger(folder)
    for options in ([], ["--dry-run"]):
        refused = planner("import", "runs.csv", *options)
        assert (refused.exit_code, refused.stdout) == (2, "")
        assert refused.stderr.splitlines() == [
            "Error: runs.csv: 2 faults, nothing was recorded:",
            "  line 4, column 'clock' = 'fast': expected a number in MHz",
            "  line 5, column 'outcome' = 'meow': expected one of pass, crash, no-start, errors,"
            " wrong-result, power-off, stopped, void",
        ]
    assert ledger(folder) == before


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["nowhere.csv"], ["import nowhere.csv", "cannot be read"]),
        (["studies"], ["import studies", "cannot be read"]),
        (["runs.csv", "--study", "attic"], ["'attic'"]),
        (["runs.csv", "--from", "a\x1b"], ["--from", "printable"]),
        (["runs.csv", "--from", "a" * 61], ["--from", "60"]),
        (["studies/box/ledger.jsonl"], ["line 1"]),
    ],
)
def test_a_slip_is_refused(folder: Path, arguments: list[str], named: list[str]) -> None:
    """Exit code 2 and nothing written."""
    before = ledger(folder)
    refused = planner("import", *arguments)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert [name for name in named if name not in refused.stderr] == []
    assert "\x1b" not in refused.stderr
    assert ledger(folder) == before


def test_a_pending_run_is_answered_first(folder: Path) -> None:
    """Exit code 4: no row is taken for the answer. Faults come first, a dry run is free."""
    told("record", "pass", "--as-is")
    told("next")
    before = ledger(folder)
    owed = planner("import", "runs.csv")
    assert (owed.exit_code, owed.stdout) == (4, "")
    assert "Run 2 is pending" in owed.stderr
    assert "planner record void" in owed.stderr
    told("import", "runs.csv", "--dry-run")
    assert ledger(folder) == before
    told("record", "void")
    told("import", "runs.csv")
    told("next")
    assert "Nothing to record" in told("import", "runs.csv").stdout


def test_the_edited_study_counts(folder: Path) -> None:
    """A knob added since the last command is known, and taken over only if all rows are sound."""
    knob = '\n[[knob]]\nname = "delay"\nlow = 1\nhigh = 9\nstep = 1\nstock = 4\n'
    (folder / "study.toml").write_text(STUDY + knob, encoding="utf-8")
    Path("bad.csv").write_text("outcome,delay\npass,x\n", encoding="utf-8")
    Path("good.csv").write_text("outcome,delay\npass,5\n", encoding="utf-8")
    before = ledger(folder)
    assert planner("import", "bad.csv").exit_code == 2
    assert "delay 5" in told("import", "good.csv", "--dry-run").stdout
    assert ledger(folder) == before
    assert "taken over" in told("import", "good.csv").stderr
    assert Study.open(folder).history.runs[0].ran["delay"] == 5.0


def test_an_edit_taken_back_counts_beside_a_mirror(folder: Path) -> None:
    """Only where benches share a server is a text that was told before merely out of date."""
    Path("copy").mkdir()
    told("mirror", "copy")
    more = STUDY + '\n[[knob]]\nname = "delay"\nlow = 1\nhigh = 9\nstep = 1\nstock = 4\n'
    (folder / "study.toml").write_text(more, encoding="utf-8")
    told("check")
    (folder / "study.toml").write_text(STUDY, encoding="utf-8")
    assert "taken over" in told("import", "runs.csv").stderr
    assert Study.open(folder).history.definition.text == STUDY


def test_an_edited_study_that_cannot_be_is_refused(folder: Path) -> None:
    """Its own message; nothing is recorded."""
    (folder / "study.toml").write_text(STUDY.replace("step = 50", "step = -1"), encoding="utf-8")
    refused = planner("import", "runs.csv")
    assert refused.exit_code == 2
    assert "step" in refused.stderr


def test_without_its_study_file_a_study_takes_runs(folder: Path) -> None:
    """As record does: the ledger holds the definition."""
    (folder / "study.toml").unlink()
    told("import", "runs.csv")


@pytest.mark.usefixtures("folder")
def test_it_reads_what_export_prints() -> None:
    """One study's export piped into another."""
    told("import", "runs.csv")
    table = told("export").stdout
    made("attic")
    said = planner("import", "-", "-s", "attic", typed=table)
    assert said.exit_code == 0
    assert "Recorded 2 runs from standard input" in said.stdout
    again = planner("import", "-", "-s", "attic", "--dry-run", typed=table)
    assert "2 rows are on record already" in again.stdout


@pytest.mark.usefixtures("folder")
def test_a_name_tells_rows_alike_apart() -> None:
    """Otherwise they are on record already."""
    told("import", "runs.csv")
    assert "--from" in told("import", "runs.csv").stdout
    assert "runs 3 to 4" in told("import", "runs.csv", "--from", "evening 2").stdout


@pytest.mark.parametrize(
    ("stop", "code"), [(LedgerUnwritable("the disk is full"), 6), (KeyboardInterrupt(), 130)]
)
def test_stopped_half_way_it_says_how_far_it_came(
    folder: Path, monkeypatch: pytest.MonkeyPatch, stop: BaseException, code: int
) -> None:
    """What was recorded stays, and the same command goes on from there."""
    kept = Study.record

    def record(self: Study, outcome: str, **facts: object) -> object:
        if outcome == "crash":
            raise stop
        return kept(self, outcome, **facts)

    monkeypatch.setattr(Study, "record", record)
    stopped = planner("import", "runs.csv")
    assert stopped.exit_code == code
    assert "1 of 2 runs are recorded" in stopped.stderr
    monkeypatch.setattr(Study, "record", kept)
    said = told("import", "runs.csv").stdout
    assert "Recorded 1 run from runs.csv, run 2" in said
    assert "1 row is on record already" in said


@pytest.mark.usefixtures("folder")
def test_long_imports_say_how_far_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """On stderr, so that the result stays clean."""
    monkeypatch.setattr(sys.modules["planner.cli.import_"], "_LONG", 3)
    Path("runs.csv").write_text("outcome,clock\n" + "pass,4500\n" * 7, encoding="utf-8")
    said = told("import", "runs.csv")
    assert said.stderr.splitlines() == ["3 of 7 recorded", "6 of 7 recorded"]
