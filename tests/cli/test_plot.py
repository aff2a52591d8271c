"""`planner plot`."""

import json
from pathlib import Path

import pytest

from planner.cli.plot import picture_names
from tests.cli.typed import STUDY, made, planner, told


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


def varied() -> Path:
    """A study that was run at two clocks and two voltages."""
    folder = made()
    for clock, volts in [(4600, 1.2), (4700, 1.2), (4700, 1.22)]:
        told("record", "pass", "--set", f"clock={clock}", "--set", f"volts={volts}")
    return folder


@pytest.mark.parametrize("name", ["edge", "map", "progress"])
def test_it_draws_the_picture_named(name: str) -> None:
    """Into the study's folder under the picture's name; the folder may be named before it."""
    folder = varied()
    shown = Path(told("plot", "box", "--picture", name).stdout.strip())
    assert shown == folder / "pictures" / f"{name}.png"
    assert shown.read_bytes().startswith(b"\x89PNG")


def test_all_draws_every_picture_that_applies() -> None:
    """One line a file; what is left out is told beside them, with the reason."""
    folder = varied()
    all_of_it = told("plot", "--all")
    files = [Path(line) for line in all_of_it.stdout.split()]
    assert [file.stem for file in files] == ["edge", "map", "progress"]
    assert all(file.parent == folder / "pictures" and file.is_file() for file in files)
    assert "No frontier: " in all_of_it.stderr


def test_all_leaves_the_map_out_where_one_knob_was_varied() -> None:
    """Exit 0: there is nothing wrong."""
    made()
    told("record", "pass", "--set", "clock=4600")
    drawn = told("plot", "--all")
    assert "map.png" not in drawn.stdout
    assert "No map: no run tells of a second knob" in drawn.stderr


def test_the_map_is_drawn_over_the_knobs_named() -> None:
    """Each option by itself, or both."""
    varied()
    for options in (["--y", "ratio"], ["--x", "ratio"], ["--x", "ratio", "--y", "clock"]):
        told("plot", "-p", "map", "-o", "map.svg", *options)
        text = Path("map.svg").read_text(encoding="utf-8")
        assert "over ratio and" in text or "and ratio" in text


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--picture", "cake"], "picture 'cake': expected one of edge, map"),
        (["--picture", "map"], "no run tells of a second knob"),
        (["--picture", "map", "--y", "cake"], "--y cake: expected a knob of the study: clock"),
        (["--picture", "map", "--x", "clock", "--y", "clock"], "expected two different knobs"),
        (["--x", "clock"], "the picture edge has no axis to choose: expected --picture map"),
        (["--all", "--out", "a.png"], "--all with --out: expected one of the two"),
        (["--all", "--picture", "map"], "--all with --picture"),
    ],
)
def test_a_slip_is_refused(options: list[str], said: str) -> None:
    """Exit 2, one message, nothing drawn."""
    folder = made()
    told("record", "pass", "--set", "clock=4600")
    refused = planner("plot", *options)
    assert refused.exit_code == 2
    assert said in refused.stderr
    assert not (folder / "pictures").exists()


def test_shells_complete_the_pictures() -> None:
    """By how they begin."""
    assert {"edge", "map", "progress"} <= set(picture_names(""))
    assert picture_names("pro") == ["progress"]


FRONTIER = STUDY.replace('knob = "clock"', 'knob = "clock"\naim = "frontier"\nalong = "volts"', 1)


def test_the_usual_picture_of_a_frontier_study_is_the_frontier() -> None:
    """Asked for by nothing, in the guided session, and with every other one."""
    folder = made(text=FRONTIER)
    file = folder / "pictures" / "frontier.png"
    assert Path(told("plot").stdout.strip()) == file
    assert file.read_bytes().startswith(b"\x89PNG")
    file.unlink()
    assert str(file) in planner("guide", typed="own p\nplot\n").stdout
    assert file.is_file()
    assert str(file) in told("plot", "--all").stdout.split()
    refused = planner("plot", "--x", "clock")
    assert refused.exit_code == 2
    assert "the picture frontier has no axis to choose" in refused.stderr


def test_json_of_a_frontier_says_why_a_value_is_missing() -> None:
    """`holding` stands beside `kept`; only the voltage that was run has one."""
    made(text=FRONTIER)
    told("record", "pass", "--set", "clock=4600", "--set", "volts=1.25")
    points = json.loads(told("show", "--json").stdout)["frontier"]["points"]
    kept = {point["along"]: (point["kept"], point["holding"]) for point in points}
    assert kept[1.25] == (4600, "held")
    assert kept[1.0] == (None, "none yet")
    assert (None, "not permitted") in kept.values()
