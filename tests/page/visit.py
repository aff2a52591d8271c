"""A browser that visits the page: what it sends, what it shows."""

import html
import re
from pathlib import Path

from werkzeug.test import TestResponse

from planner.cli.show import standing_of
from planner.driving.trail import Trail
from planner.page.app import page_app
from planner.page.desk import HASTY_S, Desk
from planner.page.door import Door
from planner.page.thinker import Thinker
from planner.study import Study

HERE = "http://127.0.0.1:8417"


class Visit:
    """A page on a study, its clock in the test's hands."""

    def __init__(
        self, folder: Path, door: Door | None = None, patience: float | None = None
    ) -> None:
        """The page is not yet asked for."""
        self.folder, self.door = folder, door or Door("127.0.0.1", 8417)
        self.clock = 0.0
        self._thinker = thinker = Thinker(Study.open(folder), standing_of)
        at_work = Trail(folder).run_at_work
        desk = Desk(Study.open(folder), thinker, " -s box", lambda: self.clock, at_work, patience)
        self._client = page_app(desk, self.door).test_client()

    def ask(self, method: str, path: str, headers: dict[str, str], **sent: object) -> TestResponse:
        """A request with these headers; Host is the page's own unless given."""
        given = {"Host": f"{self.door.address}:{self.door.port}", **headers}
        return self._client.open(path, method=method, headers=given, buffered=True, **sent)

    def page(self) -> str:
        """The page as it is now, a run's length after it was shown last."""
        answer = self.ask("GET", "/", {})
        assert answer.status_code == 200, answer.text
        self.clock += HASTY_S
        return answer.text

    def patience(self, seconds: float) -> None:
        """Wait at most so many s for what is being worked out."""
        self._thinker.ask(seconds)

    def mark(self) -> str:
        """What a page that begins to listen is told first."""
        given = {"Host": f"{self.door.address}:{self.door.port}"}
        answer = self._client.open("/news", headers=given, buffered=False)
        told = next(iter(answer.iter_encoded())).decode()
        answer.close()
        assert (answer.mimetype, told[:6], told[-2:]) == ("text/event-stream", "data: ", "\n\n")
        return told[6:-2]

    def tap(self, outcome: str, run: int, **fields: str) -> TestResponse:
        """The form, sent from the page itself."""
        sent = {"run": str(run), "outcome": outcome, **fields}
        return self.ask("POST", "/record", {"Origin": HERE}, data=sent)

    def study(self) -> Study:
        """The study as another window has it."""
        return Study.open(self.folder)


def words(page: str) -> str:
    """The text of a page, as a reader gets it."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", page)).split())


def run_asked(page: str) -> int:
    """The number of the run that a page's form answers."""
    found = re.search(r'name="run" value="(\d+)"', page)
    assert found is not None, page
    return int(found[1])
