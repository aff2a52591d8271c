"""Lines break where a reader expects it, and nothing typed comes out as markup."""

import pytest

from planner.page.ties import cell, tied

TIE = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("core 5100 MHz, 1.28 V", f"core 5100{TIE}MHz, 1.28{TIE}V"),
        ("12 passes", f"12{TIE}passes"),
        ("run 7: 22 more", f"run 7: 22{TIE}more"),
        ("a 1 2", "a 1 2"),
        ("the edge lies 9 to 1, here", f"the edge lies 9{TIE}to{TIE}1, here"),
        ("up to 1, or 5 to 5.5", f"up to 1, or 5{TIE}to{TIE}5.5"),
        ("<b>5 V</b>", f"&lt;b&gt;5{TIE}V&lt;/b&gt;"),
    ],
)
def test_a_number_stays_with_its_unit(text: str, written: str) -> None:
    """Markup in what people typed stays text."""
    assert tied(text) == written


def test_long_names_part_at_their_joints() -> None:
    """In tables; the break that may be is no character, so a name is copied whole."""
    assert cell("graphics_memory & 1_<i>") == "graphics_<wbr>memory &amp; 1_&lt;i&gt;"
