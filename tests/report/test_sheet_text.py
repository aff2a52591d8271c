"""Settings sheets as kept text, and what no typed word may do to them.

PLANNER_WRITE_GOLDEN=1 writes the files anew; read the difference before keeping it.
"""

import os
import re
from itertools import pairwise
from pathlib import Path

import pytest

from planner.report.sheet.forms import markdown_text, page_text
from planner.report.sheet.words import blocks_of
from planner.report.written.blocks import Heading
from planner.report.written.markdown import escaped
from planner.report.written.plain import one_line
from tests.report.sheets import EVIL, SHEETS

GOLDEN = Path(__file__).parent / "golden_sheets"
WRITTEN = {"md": markdown_text, "html": lambda sheet: page_text(sheet).split("</head>\n")[1]}
"""The page's head is the same for all; its rules of style are not text."""


@pytest.mark.parametrize("ending", WRITTEN)
@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_is_as_kept(name: str, ending: str) -> None:
    """Character by character, in both forms."""
    file, text = GOLDEN / f"{name}.{ending}", WRITTEN[ending](SHEETS[name]())
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        file.write_text(text, encoding="utf-8", newline="\n")
    assert text == file.read_text(encoding="utf-8")


def test_no_kept_sheet_is_without_use() -> None:
    """Each file is of a sheet that there is."""
    expected = {f"{name}.{ending}" for name in SHEETS for ending in WRITTEN}
    assert {file.name for file in GOLDEN.iterdir()} == expected


@pytest.mark.parametrize("name", SHEETS)
def test_headings_go_down_by_one_level(name: str) -> None:
    """One first heading, and none that skips a level."""
    levels = [b.level for b in blocks_of(SHEETS[name]()) if isinstance(b, Heading)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("name", SHEETS)
def test_markdown_holds_only_the_marks_that_are_meant(name: str) -> None:
    """Every line begins as one of ours, has no tag, and each row as many cells as its header."""
    cells = 0
    for line in markdown_text(SHEETS[name]()).split("\n"):
        assert line.isprintable()
        assert not re.search(r"[<>]|&(?!amp;|lt;|gt;)", line)
        bars = len(re.findall(r"(?<!\\)\|", line.replace("\\\\", "")))
        assert bars == (cells or bars) or not line.startswith("|")
        assert bars == 0 or line.startswith("|")
        cells = bars
        plain = re.sub(r"\\.|\*\*|`planner check --head [0-9a-f:]+`|`[0-9a-f]{64}`", "", line)
        assert not re.search(r"[`*~$\[\]]|(?<=.)(?<!^#)(?<!^##)#", plain)


def test_the_hostile_text_is_all_there() -> None:
    """Escaping loses nothing but what cannot be seen."""
    assert one_line(EVIL) == EVIL.replace("\r\n", "  ").replace("\x1b", "?").replace("\u202e", "?")
    read = re.sub(r"\\(.)", r"\1", escaped(EVIL))
    for entity, character in (("&lt;", "<"), ("&gt;", ">"), ("&amp;", "&")):
        read = read.replace(entity, character)
    assert read == one_line(EVIL)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("core_clock", "core_clock"),
        ("_shy_", r"\_shy\_"),
        ("a_ b", r"a\_ b"),
        ("C#", r"C\#"),
        ("1 < 2 & 3", "1 &lt; 2 &amp; 3"),
        ("a\nb\tc\x07", "a b c?"),
    ],
)
def test_names_stay_readable_in_markdown(text: str, written: str) -> None:
    """Only what would mark something is escaped."""
    assert escaped(text) == written


@pytest.mark.parametrize("ending", WRITTEN)
def test_what_is_at_own_risk_says_so_wherever_it_stands(ending: str) -> None:
    """In short, above the score, at the value, and over the column of the setting to keep."""
    text = WRITTEN[ending](SHEETS["scored"]())
    lines = [
        line for line in text.split("\n") if re.search(r"13204\.5|1\.255.V|core_ratio 54x", line)
    ]
    assert len(lines) >= 6
    unmarked = [line for line in lines if "AT YOUR OWN RISK" not in line]
    assert all("pass that nothing capped" in line for line in unmarked)
    for everyday in ("12810", "core_ratio 52x"):
        assert "AT YOUR OWN RISK" not in next(line for line in text.split("\n") if everyday in line)
