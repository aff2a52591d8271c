"""What takes long does not keep the page: it is shown without, and told once it is there."""

from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from planner.page.desk import Desk
from planner.page.news import MOST, News
from planner.page.thinker import Thinker
from planner.study import Study
from tests.page.visit import Visit, run_asked, words


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Event]:
    """Studies ask for a run only once this is set."""
    go, ask = Event(), Study.next

    def waiting(study: Study) -> object:
        assert go.wait(60)
        return ask(study)

    monkeypatch.setattr(Study, "next", waiting)
    yield go
    go.set()


def test_the_page_is_shown_while_the_next_run_is_worked_out(folder: Path, slow: Event) -> None:
    """Records, minutes and own runs are there at once; the rest follows with another mark."""
    Study.open(folder).record("pass", settings={})
    visit = Visit(folder, patience=0)
    page = visit.page()
    assert "the next run is being worked out" in words(page)
    assert "Run 1 recorded: your own run, pass" in words(page)
    assert '<noscript><meta http-equiv="refresh"' in page
    mark = visit.mark()
    assert f'data-mark="{mark}"' in page
    slow.set()
    visit.patience(60)
    page = visit.page()
    assert run_asked(page) == 2
    assert "To keep every day" in words(page)
    assert visit.mark() != mark


def test_the_first_page_waits_for_nothing(folder: Path, slow: Event) -> None:
    """However patient: libraries are being loaded then."""
    Study.open(folder)
    visit = Visit(folder, patience=1e6)
    assert "the next run is being worked out" in words(visit.page())


def test_an_answer_is_taken_while_the_next_run_is_worked_out(folder: Path, slow: Event) -> None:
    """Thinking has a study of its own; nothing waits for it."""
    Study.open(folder)
    slow.set()
    asked = Study.open(folder).next()
    assert asked is not None
    slow.clear()
    visit = Visit(folder, patience=0)
    assert run_asked(visit.page()) == asked.number
    assert visit.tap("crash", asked.number).status_code == 303
    assert "the next run is being worked out" in words(visit.page())


def test_a_defect_while_thinking_is_not_kept_quiet(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It comes up where someone looks, and a page does not wait for ever."""

    def broken(study: Study) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(Study, "next", broken)
    assert Visit(folder).ask("GET", "/", {}).status_code == 500


def test_so_many_pages_listen_and_no_more(folder: Path) -> None:
    """Each takes a thread; one that leaves makes room."""

    def none(study: Study) -> None:
        raise AssertionError("nobody looks")

    thinker = Thinker(Study.open(folder), none)  # type: ignore[arg-type]
    news = News(Desk(Study.open(folder), thinker, "", lambda: 0.0, lambda: None))
    listening = [news.listen() for _ in range(MOST)]
    assert all(told is not None for told in listening)
    assert news.listen() is None
    assert listening[0] is not None
    assert next(listening[0]).startswith("data: ")
    listening[0].close()
    assert news.listen() is not None
