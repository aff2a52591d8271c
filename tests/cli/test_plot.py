"""`planner plot`."""

from pathlib import Path

import pytest

from tests.cli.typed import made, planner, told


def test_it_draws_into_the_study() -> None:
    """By default pictures/edge.png in its folder, and the name is printed."""
    folder = made()
    shown = Path(told("plot").stdout.strip())
    assert shown == folder / "pictures" / "edge.png"
    assert shown.read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize("name", ["frontier.svg", "deep/er/frontier.PNG"])
def test_it_draws_where_it_is_told(name: str) -> None:
    """The ending says the format; folders are made."""
    made()
    told("record", "pass", "--set", "clock=4600")
    told("plot", "--out", name)
    assert Path(name).stat().st_size > 1000


def test_a_format_that_it_does_not_know_is_refused() -> None:
    """Exit 2, and the message says which it knows."""
    made()
    refused = planner("plot", "-o", "edge.pdf")
    assert refused.exit_code == 2
    assert ".png or .svg" in refused.stderr


def test_it_draws_a_study_whose_file_is_broken() -> None:
    """The ledger's last good definition counts."""
    folder = made()
    (folder / "study.toml").write_text("[study", encoding="utf-8")
    told("plot")


def test_drawing_writes_nothing_into_the_ledger() -> None:
    """It only reads."""
    folder = made()
    before = (folder / "ledger.jsonl").read_bytes()
    told("plot")
    assert (folder / "ledger.jsonl").read_bytes() == before
