"""`planner report`."""

from pathlib import Path

import pytest

from tests.cli.typed import STUDY, ledger, made, planner, told


def evening() -> Path:
    """A study with a proposal answered, and a run of one's own."""
    folder = made(text=STUDY)
    told("record", "pass", "--as-is", "--score", "1200")
    told("next")
    told("record", "crash", "--failed-after", "85s", "--note", "fan <off>")
    return folder


def test_it_writes_one_page_into_the_study() -> None:
    """Its name is printed, the ledger is only read, and a later one takes its place."""
    folder = evening()
    before = ledger(folder)
    assert told("report").stdout == f"{folder / 'report.html'}\n"
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert page.startswith("<!doctype html>")
    assert "Run 2: crash after 85" in page
    assert "fan &lt;off&gt;" in page
    assert ledger(folder) == before
    told("record", "pass", "--as-is")
    told("report", "box")
    assert "Run 3: pass" in (folder / "report.html").read_text(encoding="utf-8")


def test_it_spares_what_is_no_report() -> None:
    """A sheet, or notes of the person's, under the name that was given."""
    evening()
    told("sheet", "--out", "sheet.html")
    Path("notes.html").write_text("mine", encoding="utf-8")
    for name in ("sheet.html", "notes.html"):
        answer = planner("report", "--out", name)
        assert (answer.exit_code, "something else than a report" in answer.stderr) == (2, True)
    assert Path("notes.html").read_text(encoding="utf-8") == "mine"
    assert told("report", "--out", "deep/er/all.html").stdout.strip() == str(
        Path("deep/er/all.html")
    )


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (["--out", "report.pdf"], "--out report.pdf: expected a file ending in .html"),
        (["--attach", "gone.png"], "gone.png: cannot be read"),
        (["nowhere"], "no study 'nowhere'"),
    ],
)
def test_slips(given: list[str], said: str) -> None:
    """Option, value and what was expected are named, and nothing is written."""
    folder = evening()
    answer = planner("report", *given)
    assert (answer.exit_code, said in answer.stderr) == (2, True)
    assert not (folder / "report.html").exists()


def test_own_pictures_are_attached_and_the_planner_s_are_not_shown_twice() -> None:
    """Each is named by its hash; what `plot` drew is drawn anew in the report."""
    folder = evening()
    told("plot")
    png = b"\x89PNG\r\n\x1a\n" + b"\0" * 40
    (folder / "pictures" / "bench.png").write_bytes(png)
    told("report")
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert 'alt="Attached picture bench.png"' in page
    assert 'alt="Attached picture edge.png"' not in page
    assert "edge.png, " in page
