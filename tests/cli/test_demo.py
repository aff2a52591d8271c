"""`planner demo`: an evening on the made-up rig, and the study that it leaves behind."""

import re
import tomllib
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from planner import Study
from planner.cli.demo import evening
from planner.domain.run import Run
from planner.rigs.demo import DemoRig
from planner.rigs.demo_definition import DEFINITION
from tests.cli.typed import planner, told

DEMO = Path("studies", "demo")


def look(run: Run) -> tuple[object, ...]:
    """What a run tells, time and names of entries aside."""
    facts = (run.outcome, run.minutes, run.failed_after_s, run.score)
    return (run.number, run.ran, *facts, run.subscores, run.readings)


@cache
def played(seed: int) -> tuple[Run, ...]:
    """An evening in memory, from the same definition."""
    study = Study.create(tomllib.loads(DEFINITION))
    list(evening(study, DemoRig(seed)))
    return study.history.runs


def test_it_leaves_a_study_that_opens() -> None:
    """The ledger holds the evening that was shown, and the study has closed with a reason."""
    shown = told("demo", "--seed", 3).stdout
    study = Study.open(DEMO)
    runs = study.history.runs
    assert re.findall(r"^ ?(\d+)  \d+ MHz,", shown, re.MULTILINE) == [str(r.number) for r in runs]
    assert [look(r) for r in runs] == [look(r) for r in played(3)]
    assert study.closing() is not None


def test_it_leaves_a_picture() -> None:
    """A whole PNG (PNG specification: signature first, an IEND chunk last), named at the end."""
    shown = told("demo").stdout
    picture = DEMO / "pictures" / "edge.png"
    assert str(picture) in shown
    data = picture.read_bytes()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    assert data.endswith(b"IEND\xaeB`\x82")


def test_the_study_can_be_gone_on_with() -> None:
    """Closed: exit 3 with the reason. What the demo says to try gives a proposal."""
    told("demo")
    assert planner("next", "demo").exit_code == 3
    told("reopen", "demo")
    assert "core_clock" in told("next", "demo").stdout
    told("record", "crash", "-s", "demo")


def test_more_voltage_reopens_the_search() -> None:
    """The other thing it says to try: core_voltage at its everyday ceiling in study.toml."""
    shown = told("demo").stdout
    assert "core_voltage" in shown
    before, after = (DEMO / "study.toml").read_text("utf-8").split('name = "core_voltage"')
    after = after.replace("stock = 100", "stock = 104", 1)
    (DEMO / "study.toml").write_text(f'{before}name = "core_voltage"{after}', "utf-8", newline="\n")
    assert "104%" in told("next", "demo").stdout


@pytest.mark.parametrize("seed", range(6))
def test_an_evening_has_something_of_everything(seed: int) -> None:
    """A stock run first; passes with scores, sub-scores and readings; crashes with times."""
    runs = played(seed)
    assert (runs[0].asked, runs[0].ran["core_clock"]) == (None, 4800)
    passed = [r for r in runs if r.outcome == "pass"]
    crashed = [r for r in runs if r.outcome == "crash"]
    assert all(r.score and len(r.subscores) == 3 and "hotspot" in r.readings for r in passed)
    assert all(r.failed_after_s for r in crashed)
    assert len(passed) > 5
    assert crashed


@pytest.mark.parametrize("seed", range(6))
def test_nothing_is_asked_for_above_an_everyday_ceiling(seed: int) -> None:
    """No risk was accepted: 5350 MHz and 104 % bound every proposal."""
    asked = [r.settings for r in played(seed) if r.asked is not None]
    assert max(s["core_clock"] for s in asked) <= 5350
    assert max(s["core_voltage"] for s in asked) <= 104


def test_another_seed_is_another_evening() -> None:
    """The same seed gave the same one above."""
    assert [look(r) for r in played(1)] != [look(r) for r in played(2)]


def test_lines_fit_the_screen() -> None:
    """Two lines a run at 80 columns, none longer than the screen."""
    lines = told("demo").stdout.splitlines()
    assert max(map(len, lines)) <= 80
    runs = [place for place, line in enumerate(lines) if re.match(r" ?\d+  \d+ MHz,", line)]
    assert {after - before for before, after in pairwise(runs)} == {2}


def test_a_second_demo_takes_a_name_of_its_own() -> None:
    """Without a name it never touches what is there."""
    told("demo")
    before = (DEMO / "ledger.jsonl").read_bytes()
    assert "studies/demo-2" in told("demo").stdout.replace("\\", "/")
    assert (DEMO / "ledger.jsonl").read_bytes() == before


def test_a_folder_that_holds_something_is_refused() -> None:
    """Named outright it must be new: exit 2, and nothing is written there."""
    Path("papers").mkdir()
    Path("papers", "will.txt").write_text("mine", "utf-8")
    refused = planner("demo", "./papers")
    assert refused.exit_code == 2
    assert "expected a new name" in refused.stderr
    assert [p.name for p in Path("papers").iterdir()] == ["will.txt"]


def test_a_folder_elsewhere_is_taken(tmp_path: Path) -> None:
    """A path is a path, as for a new study."""
    told("demo", str(tmp_path / "elsewhere" / "night"))
    assert Study.open(tmp_path / "elsewhere" / "night").history.runs
