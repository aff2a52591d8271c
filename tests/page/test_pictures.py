"""Pictures on the page: with words beside them, drawn once until the ledger grows."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from planner.page.gallery import Gallery
from planner.report.pictures import file
from planner.study import Study
from tests.page.visit import Visit, words

SVG = "{http://www.w3.org/2000/svg}svg"


def test_every_picture_has_its_words(visit: Visit) -> None:
    """A title under it, a paragraph in its place, and a picture that is one."""
    visit.study().record("crash", settings={"clock": 4900})
    page = visit.ask("GET", "/pictures", {}).text
    shown = [part.split("?")[0] for part in page.split('<img src="')[1:]]
    assert shown == ["picture/edge.svg", "picture/progress.svg"]
    assert page.count("In words") == 2
    for path in shown:
        answer = visit.ask("GET", f"/{path}", {})
        assert answer.mimetype == "image/svg+xml"
        assert "script" not in answer.headers["Content-Security-Policy"]
        assert ElementTree.fromstring(answer.data).tag == SVG
    assert "1 failed run cost 14 minutes and 1 restart" in words(page)


def test_a_picture_is_drawn_once(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Until another run is on record; those that nobody asks for are not drawn."""
    drawn, draw = [], file.picture_bytes
    monkeypatch.setattr(
        file, "picture_bytes", lambda *given: drawn.append(given[0].title) or draw(*given)
    )
    study = Study.open(folder)
    gallery = Gallery(lambda: (str(study.head), study.history))
    gallery.listed()
    first = gallery.svg("edge")
    assert gallery.svg("edge") is first
    assert len(drawn) == 1
    study.record("crash", settings={"clock": 4900})
    assert gallery.svg("edge") != first
    assert len(drawn) == 2


@pytest.mark.parametrize("aim", ["peak", "everyday", "trim"])
def test_a_search_over_many_knobs_has_the_edges_of_all(folder: Path, aim: str) -> None:
    """Beside the setting to keep; one knob's with the others at stock is not what it runs."""
    toml = folder / "study.toml"
    text = toml.read_text("utf-8").replace('knob = "clock"', f'aim = "{aim}"')
    toml.write_text(text, encoding="utf-8")
    study = Study.open(folder)
    assert study.adopt()
    study.record("pass", settings={"clock": 4300, "volts": 1.21}, score=2400)
    study.record("pass", settings={"clock": 4400, "volts": 1.22}, score=2450)
    page = Visit(folder).ask("GET", "/pictures", {}).text
    assert "picture/edge.svg" in page
    assert "nearest to its edge" in words(page)
    assert "picture/progress.svg" in page
