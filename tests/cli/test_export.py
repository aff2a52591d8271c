"""planner export: to a pipe, to a terminal's study folder, to the file named."""

import csv
import json
from pathlib import Path

import pytest

from planner.cli import export
from tests.cli.loaded import loaded_by
from tests.cli.typed import made, planner, told

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def folder() -> Path:
    """A study with two runs, one of them with a text beyond ASCII."""
    folder = made()
    told("record", "pass", "--as-is", "--score", "1000", "--note", "21 \u00b0C, =1")
    told("record", "crash", "--set", "clock=4800", "--set", "volts=1.3")
    return folder


def test_piped_it_is_the_table(folder: Path) -> None:
    """Byte for byte: CRLF, no mark before it, nothing beside it; no file is written."""
    before = sorted(folder.iterdir())
    printed = told("export").stdout_bytes
    assert printed.startswith(b"run,time,bench,outcome,")
    lines = printed.split(b"\r\n")
    assert len(lines) == 4
    assert lines[-1] == b""
    assert b"21 \xc2\xb0C, =1" in lines[1]
    assert b"\n" not in b"".join(lines)
    assert sorted(folder.iterdir()) == before


def test_on_a_terminal_it_goes_into_the_studys_folder(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its path is printed; a spreadsheet is told that it is UTF-8; the next one replaces it."""
    monkeypatch.setattr(export, "to_terminal", lambda: True)
    assert told("export", "box").stdout.strip() == str(folder / "runs.csv")
    raw = (folder / "runs.csv").read_bytes()
    assert raw == b"\xef\xbb\xbf" + told("export", "--out", "-").stdout_bytes
    told("record", "pass", "--as-is")
    told("export")
    with (folder / "runs.csv").open(encoding="utf-8-sig", newline="") as file:
        assert [row["run"] for row in csv.DictReader(file)] == ["1", "2", "3"]
    assert list(folder.glob("*.part")) == []


@pytest.mark.usefixtures("folder")
def test_a_terminal_is_not_steered(monkeypatch: pytest.MonkeyPatch) -> None:
    """Printed there, what a foreign bench's name holds is a question mark; a pipe gets it all."""
    monkeypatch.setattr("planner.read_study.bench_name", lambda: "evil\x9b2J")
    told("record", "pass", "--as-is")
    assert "evil\x9b2J" in told("export", "--out", "-").stdout
    monkeypatch.setattr("planner.cli.console.to_terminal", lambda: True)
    printed = told("export", "--out", "-").stdout
    assert "evil?2J" in printed
    assert "\r" not in printed
    assert printed.count("\n") == 4


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize("way", [["--json"], ["--json", "--out", "-"], ["--json", "box"]])
def test_json_is_one_object_in_ascii(way: list[str]) -> None:
    """With the schema's number, as elsewhere."""
    printed = told("export", *way).stdout
    assert printed.isascii()
    document = json.loads(printed)
    assert (document["schema"], document["study"]) == (1, "box")
    assert [run["outcome"] for run in document["runs"]] == ["pass", "crash"]
    assert document["runs"][1]["above_everyday"] == ["volts"]


@pytest.mark.usefixtures("folder")
def test_the_files_ending_chooses() -> None:
    """Folders are made; the paths are printed."""
    for name in ("out/a.csv", "out/b.JSON"):
        assert told("export", "-o", name).stdout.strip() == name
    assert json.loads(Path("out/b.JSON").read_bytes())["schema"] == 1
    assert Path("out/a.csv").read_bytes().startswith(b"\xef\xbb\xbfrun,")


@pytest.mark.usefixtures("folder")
@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["--out", "runs.txt"], ["runs.txt", ".csv or .json"]),
        (["--out", "ledger.jsonl"], ["ledger.jsonl", ".csv or .json"]),
        (["--json", "--out", "runs.csv"], ["--json", "runs.csv", ".json"]),
        (["--out", "studies/box.csv/x.csv"], ["cannot be written"]),
        (["--out", "folder.csv"], ["folder.csv", "cannot be"]),
        (["--out", "notebook.csv"], ["notebook.csv", "something else than an export"]),
        (["--out", "notebook.json"], ["notebook.json", "something else than an export"]),
        (["nowhere"], ["nowhere"]),
    ],
)
def test_a_slip_is_refused(arguments: list[str], named: list[str]) -> None:
    """Exit code 2, and what stood there stands."""
    Path("folder.csv").mkdir()
    Path("studies/box.csv").write_text("a file", encoding="utf-8")
    for name in ("notebook.csv", "notebook.json"):
        Path(name).write_text("outcome,clock\n", encoding="utf-8")
    refused = planner("export", *arguments)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert [name for name in named if name not in refused.stderr] == []
    assert Path("notebook.csv").read_text(encoding="utf-8") == "outcome,clock\n"
    assert list(Path().rglob("*.part")) == []


def test_a_study_without_runs_has_headings() -> None:
    """One row, that a program can rely on."""
    made("box")
    assert told("export").stdout_bytes.count(b"\r\n") == 1


@pytest.mark.usefixtures("folder")
def test_it_loads_nothing_slow() -> None:
    """A table needs neither pandas nor numpy."""
    loaded = loaded_by(["export", "--out", "a.csv"])
    assert "planner.report.tables.runs" in loaded
    assert not {"pandas", "numpy", "matplotlib", "optuna"} & loaded


def test_to_optuna_and_back(folder: Path) -> None:
    """The file's name is printed; taken into another study, the runs are those of the first."""
    assert told("export", "--optuna", "runs.journal").stdout == "runs.journal\n"
    made("other")
    told("import", "--optuna", "runs.journal", "-s", "other")
    first, second = (json.loads(told("export", name, "--json").stdout) for name in ("box", "other"))
    assert [r["settings"] for r in first["runs"]] == [r["settings"] for r in second["runs"]]
    assert planner("export", "box", "--optuna", "runs.journal").exit_code == 2
    assert planner("export", "box", "--optuna", "x.db", "--json").exit_code == 2
    assert planner("import", "--optuna", "runs.csv", "-s", "box").exit_code == 2
