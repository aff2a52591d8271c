"""`planner sheet`."""

import hashlib
import json
from pathlib import Path

import pytest

from tests.cli.typed import STUDY, ledger, made, planner, told

PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 40
SCORED = STUDY + 'subscores = ["shade"]\n'


def scored() -> Path:
    """A study with scores, one of them above the everyday ceiling."""
    folder = made(text=SCORED)
    told("record", "pass", "--set", "clock=4600", "--score", "1200", "--sub", "shade=7")
    told("record", "pass", "--set", "clock=4700", "--set", "volts=1.3V", "--score", "1250")
    return folder


def test_it_writes_both_forms_into_the_study() -> None:
    """By default, and the names are printed; the ledger is only read."""
    folder = scored()
    before = ledger(folder)
    shown = told("sheet").stdout.split()
    assert shown == [str(folder / "sheet.md"), str(folder / "sheet.html")]
    text = (folder / "sheet.md").read_text(encoding="utf-8")
    assert text.startswith("# Settings sheet: box\n")
    assert (folder / "sheet.html").read_bytes().startswith(b"<!doctype html>")
    assert ledger(folder) == before
    told("sheet", "box")
    assert (folder / "sheet.md").read_text(encoding="utf-8") == text


def test_the_head_on_it_can_be_checked() -> None:
    """The command that stands on the sheet, typed as it is, later too."""
    folder = scored()
    told("sheet")
    text = (folder / "sheet.md").read_text(encoding="utf-8")
    (command,) = [line for line in text.split("\n") if "`planner check --head" in line]
    arguments = command.split("`")[1].split()[1:]
    told("record", "pass", "--as-is")
    assert "It still holds" in told(*arguments).stdout
    forged = [*arguments[:-1], arguments[-1][:-1] + ("0" if arguments[-1][-1] != "0" else "1")]
    assert planner(*forged).exit_code == 6


@pytest.mark.parametrize(
    ("name", "start"),
    [("kept.md", "# Settings"), ("deep/er/kept.html", "<!doctype"), ("K.HTML", "<!doctype")],
)
def test_it_writes_where_it_is_told(name: str, start: str) -> None:
    """The ending says the form; folders are made, and nothing else is written."""
    folder = scored()
    assert told("sheet", "--out", name).stdout.strip() == str(Path(name))
    assert Path(name).read_text(encoding="utf-8").startswith(start)
    assert not (folder / "sheet.md").exists()


@pytest.mark.parametrize("name", ["kept.pdf", "kept", ".md"])
def test_another_ending_is_refused(name: str) -> None:
    """Exit 2, and the message says which there are."""
    scored()
    refused = planner("sheet", "--out", name)
    assert refused.exit_code == 2
    assert ".md or .html" in refused.stderr
    assert not Path(name).exists()


def test_for_programs_it_writes_no_file() -> None:
    """One object with a schema number on stdout; together with --out it is refused."""
    folder = scored()
    read = json.loads(told("sheet", "--json").stdout)
    assert read["schema"] == 1
    assert [(s["score"], s["at_own_risk"]) for s in read["scores"]] == [
        (1200, []),
        (1250, ["volts"]),
    ]
    assert read["scores"][0]["subscores"] == {"shade": 7}
    assert not (folder / "sheet.md").exists()
    both = planner("sheet", "--json", "--out", "kept.md")
    assert both.exit_code == 2
    assert "--json and --out kept.md: expected one of them" in both.stderr


def test_pictures_go_along() -> None:
    """Those in pictures/ by name, then those attached, each once, with the hash of its bytes."""
    folder = scored()
    (folder / "pictures").mkdir()
    (folder / "pictures" / "b.png").write_bytes(PNG)
    (folder / "pictures" / "a.PNG").write_bytes(b"no picture at all")
    (folder / "pictures" / "notes.txt").write_text("left out", encoding="utf-8")
    Path("proof.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>", encoding="utf-8")
    again = folder / "pictures" / "b.png"
    read = json.loads(told("sheet", "--json", "--attach", "proof.svg", "--attach", again).stdout)
    files = {file["name"]: file for file in read["attached"]}
    assert list(files) == ["a.PNG", "b.png", "proof.svg"]
    assert files["b.png"]["sha256"] == hashlib.sha256(PNG).hexdigest()
    assert [file["shown"] for file in files.values()] == [False, True, True]


def test_a_large_picture_is_listed_and_not_shown() -> None:
    """From 1 MB on; its hash is of all its bytes."""
    scored()
    large = PNG + b"\1" * 1_500_000
    Path("large.png").write_bytes(large)
    Path("small.png").write_bytes(large[:999_999])
    told("sheet", "--attach", "large.png", "--attach", "small.png", "--out", "kept.html")
    text = Path("kept.html").read_text(encoding="utf-8")
    assert hashlib.sha256(large).hexdigest() in text
    assert text.count("<img") == 1


@pytest.mark.parametrize("name", ["missing.png", "studies"])
def test_what_cannot_be_attached_is_named(name: str) -> None:
    """Exit 2 with the file and what was expected; nothing is written."""
    folder = scored()
    refused = planner("sheet", "--attach", name)
    assert refused.exit_code == 2
    assert f"Error: {name}: cannot be read" in refused.stderr
    assert not (folder / "sheet.md").exists()


def test_where_it_cannot_write_it_says_so() -> None:
    """Exit 2, no traceback."""
    scored()
    Path("file").write_text("", encoding="utf-8")
    refused = planner("sheet", "--out", "file/kept.md")
    assert refused.exit_code == 2
    assert "cannot be written" in refused.stderr


def test_what_is_no_sheet_is_not_written_over() -> None:
    """A file of the person's own stays, and so does the other one; a sheet is written anew."""
    folder = scored()
    told("sheet")
    (folder / "sheet.html").write_text("<p>my own page</p>", encoding="utf-8")
    (folder / "sheet.md").write_text("# Settings sheet: of yesterday\n", encoding="utf-8")
    refused = planner("sheet")
    assert refused.exit_code == 2
    assert "sheet.html: holds something else than a settings sheet" in refused.stderr
    assert (folder / "sheet.html").read_text(encoding="utf-8") == "<p>my own page</p>"
    assert "yesterday" in (folder / "sheet.md").read_text(encoding="utf-8")
    (folder / "sheet.html").unlink()
    told("sheet")
    assert "yesterday" not in (folder / "sheet.md").read_text(encoding="utf-8")


def test_a_study_before_its_first_run_has_a_sheet() -> None:
    """Settings and ceilings are there, claims are not."""
    made()
    read = json.loads(told("sheet", "--json").stdout)
    assert (read["scores"], read["runs"]["counted"]) == ([], 0)
    assert len(read["search"]["keep"]) == 1
    told("sheet")


def test_a_study_of_choices_alone_has_a_sheet() -> None:
    """No knob can be searched, so there is no setting to keep; its score stands all the same."""
    text = '[[knob]]\nname = "gear"\nharder = "choice"\nchoices = [1, 2]\nstock = 1\n'
    folder = Path("studies", "box")
    folder.mkdir(parents=True)
    (folder / "study.toml").write_text(text, encoding="utf-8", newline="\n")
    told("record", "pass", "--set", "gear=2", "--score", "40")
    read = json.loads(told("sheet", "--json").stdout)
    assert read["search"] is None
    assert read["scores"][0]["setting"][0]["ran"] == 2
    told("sheet")
    assert "no knob of the study has a range" in (folder / "sheet.md").read_text(encoding="utf-8")


def test_a_frontier_names_both_knobs() -> None:
    """A value of the first says nothing without the second."""
    frontier = SCORED.replace("[study]", '[study]\naim = "frontier"\nalong = "volts"', 1)
    folder = made(text=frontier)
    told("record", "pass", "--set", "clock=4600", "--set", "volts=1.22", "--score", "1200")
    told("sheet")
    text = (folder / "sheet.md").read_text(encoding="utf-8")
    assert "1200 in run 1 at clock 4600 MHz, volts 1.22 V, everyday" in text
    assert "frontier of clock along volts" in text


def test_a_missing_study_is_named() -> None:
    """As for every command."""
    assert planner("sheet", "nowhere").exit_code == 2
