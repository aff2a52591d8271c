"""The page of a settings sheet: whole, closed to everything outside, readable."""

import re
from collections.abc import Mapping
from html.parser import HTMLParser

import pytest

from planner.report.sheet.forms import page_text
from planner.report.written.look import DARK, LIGHT, style_text
from planner.report.written.plain import one_line
from tests.report.sheets import EVIL, PICTURE, SHEETS

EMPTY = {"meta", "img"}
"""Elements without an end tag."""
every_sheet = pytest.mark.parametrize("name", SHEETS)
Attributes = dict[str, str | None]


class Page(HTMLParser):
    """Its elements in order, its texts, and whether every tag was closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, Attributes]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.wrong: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def handle_data(self, data: str) -> None:
        self.texts.append(data)

    def all(self, tag: str) -> list[Attributes]:
        """Attributes of the elements of a kind."""
        return [attributes for name, attributes in self.elements if name == tag]


def page(name: str) -> Page:
    """One of the sheets, parsed."""
    return Page(page_text(SHEETS[name]()))


@every_sheet
def test_every_tag_is_closed_in_its_turn(name: str) -> None:
    """Balanced, and nothing but the elements of a plain document."""
    found = page(name)
    assert found.open == []
    assert found.wrong == []
    usual = {"html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p"}
    usual |= {"table", "thead", "tbody", "tr", "th", "td", "strong", "code"}
    assert {tag for tag, _ in found.elements} <= usual | {"figure", "img", "figcaption", "div"}


@every_sheet
def test_nothing_runs_and_nothing_is_fetched(name: str) -> None:
    """No script, no handler, no address but data; and the page's own policy forbids them."""
    text, found = page_text(SHEETS[name]()), page(name)
    assert "<script" not in text.lower()
    allowed = {"lang", "charset", "http-equiv", "content", "name", "class", "scope", "src", "alt"}
    allowed |= {"role", "tabindex", "aria-label"}
    assert {key for _, attributes in found.elements for key in attributes} <= allowed
    assert all(str(img["src"]).startswith("data:image/") for img in found.all("img"))
    assert not re.search(r"url\(|@import", text.split("</style>")[0])
    policy = next(m["content"] for m in found.all("meta") if "http-equiv" in m)
    assert policy == "default-src 'none'; img-src data:; style-src 'unsafe-inline'"


@every_sheet
def test_the_page_says_its_language_and_name(name: str) -> None:
    """And every table header says what it heads."""
    found = page(name)
    assert found.all("html") == [{"lang": "en-GB"}]
    study = one_line(SHEETS[name]().study)
    assert found.texts.count(f"Settings sheet: {study}") == 2
    assert all(th["scope"] in ("row", "col") for th in found.all("th"))
    assert all(img["alt"] for img in found.all("img"))


def test_hostile_text_is_read_as_it_was_typed() -> None:
    """Every tag and quote in a name comes out as text."""
    read = "".join(page("hostile").texts).replace("\N{NO-BREAK SPACE}", " ")
    assert read.count(one_line(EVIL)) > 20


def test_a_picture_is_data_of_an_image() -> None:
    """Where no script of it can run; its bytes are the file's."""
    from base64 import b64decode

    (image,) = page("scored").all("img")
    kind, _, data = str(image["src"]).partition(";base64,")
    assert kind == "data:image/svg+xml"
    assert b64decode(data) == PICTURE


@pytest.mark.parametrize("palette", [LIGHT, DARK])
@pytest.mark.parametrize("ink", ["ink", "soft", "risk", "link"])
def test_every_ink_can_be_read_on_its_paper(palette: Mapping[str, str], ink: str) -> None:
    """At least 4.5 to 1 (WCAG 2.2, criterion 1.4.3, with its definition of contrast)."""
    light, dark = sorted((_luminance(palette[ink]), _luminance(palette["paper"])), reverse=True)
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_colours_have_one_home() -> None:
    """The rules name inks; only a picture's ground is fixed, for drawings made for paper."""
    rules = style_text().split("@page")[1]
    assert re.findall(r"#[0-9a-f]{3,}", rules) == ["#ffffff"]


def _luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, section 6)."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
