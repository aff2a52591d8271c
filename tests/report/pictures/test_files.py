"""The files of every picture: PNG and SVG, the same bytes each time, small, with their words."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest

from planner.errors import InputError
from planner.history import History
from planner.report.pictures.file import picture_bytes, write_picture
from planner.report.pictures.picture import Prepared, Wanted
from planner.report.pictures.table import PICTURES, picture_named
from planner.searching import Searching
from tests.report.pictures.studies import crowd, history

pytestmark = pytest.mark.slow

SVG = "{http://www.w3.org/2000/svg}"
STATES = ("before the first run", "an evening", "long names")
every_picture = pytest.mark.parametrize("picture", PICTURES)


def prepared(picture: str, of: Callable[..., History]) -> Prepared:
    """A picture of that name, of a history that it applies to: some want a second knob named."""
    drawn, plain = picture_named(picture), of()
    right, up = list(plain.definition.knobs)[:2]
    wanted = Wanted(right, up)
    told = of(aim="frontier", along=up) if drawn.lacks(plain, wanted) else plain
    return drawn.prepare(told, wanted, Searching())


@every_picture
@pytest.mark.parametrize("name", STATES)
def test_png_is_whole(picture: str, name: str) -> None:
    """Signature first, an IEND chunk last (PNG specification, 5.2), wide enough for a page."""
    made = picture_bytes(prepared(picture, partial(history, name)), ".png")
    assert made[:8] == b"\x89PNG\r\n\x1a\n"
    assert made.endswith(b"IEND\xaeB`\x82")
    assert 1200 <= int.from_bytes(made[16:20]) <= 1500


@every_picture
@pytest.mark.parametrize("name", STATES)
def test_svg_says_what_it_shows(picture: str, name: str) -> None:
    """Well-formed; title and text alternative are its first children (SVG 1.1, 5.4)."""
    drawn = prepared(picture, partial(history, name))
    root = ElementTree.fromstring(picture_bytes(drawn, ".svg"))
    assert root.tag == f"{SVG}svg"
    told = [(node.tag, node.text) for node in root if node.tag in (f"{SVG}title", f"{SVG}desc")]
    assert told == [(f"{SVG}title", drawn.title), (f"{SVG}desc", drawn.alternative)]


@every_picture
@pytest.mark.parametrize("kind", [".png", ".svg"])
def test_the_same_history_gives_the_same_bytes(picture: str, kind: str) -> None:
    """No date, no random names: a picture under version control changes when its data do."""
    one, two = (
        picture_bytes(prepared(picture, partial(history, "an evening")), kind) for _ in range(2)
    )
    assert one == two


@every_picture
def test_svg_of_ten_thousand_runs_stays_under_a_megabyte(picture: str) -> None:
    """Over 60 by 60 values with every ending: marks are shared, or stand as one image."""
    assert len(picture_bytes(prepared(picture, partial(crowd, 10_000, 60, 60)), ".svg")) < 1_000_000


@every_picture
def test_every_picture_of_the_table_has_its_words(picture: str) -> None:
    """A title of one line, and one paragraph that says more than the title."""
    drawn = prepared(picture, partial(history, "an evening"))
    assert "\n" not in drawn.title + drawn.alternative
    assert drawn.alternative.startswith(drawn.title)
    assert len(drawn.alternative) > 2 * len(drawn.title)


def test_an_unknown_picture_is_refused() -> None:
    """The message says which there are."""
    with pytest.raises(InputError, match="picture 'cake': expected one of edge, map"):
        picture_named("cake")


def test_another_ending_is_refused(tmp_path: Path) -> None:
    """The message says which endings there are."""
    with pytest.raises(InputError, match=r"edge\.jpg: expected .*\.png or \.svg"):
        write_picture(prepared("edge", partial(history, "one run")), tmp_path / "edge.jpg")


def test_a_file_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A folder stands in its place."""
    (tmp_path / "edge.png").mkdir()
    with pytest.raises(InputError, match="cannot be written"):
        write_picture(prepared("edge", partial(history, "one run")), tmp_path / "edge.png")
