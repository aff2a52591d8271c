"""Every key of the file format is taken and kept, with its default where it is left out."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.domain.ceilings import Ceilings
from planner.domain.claim_rules import ClaimRules
from planner.domain.combining import Combining
from planner.domain.definition import Definition
from planner.domain.drive import Drive
from planner.domain.grid import Grid
from planner.domain.knob import Harder, Where
from planner.domain.mains import Code, Mains
from planner.domain.memory import Standard
from planner.domain.parse import parse_text
from planner.domain.tables import Aim, Goal, Group, Part, Reading, Rig, Role, RuleKind, Workload
from tests.domain.makers import clock, mode, ratio, read, tables, volts


@pytest.fixture(scope="module")
def whole() -> Definition:
    """A definition with every key there is."""
    return parse_text(Path(__file__).with_name("whole.toml").read_text(encoding="utf-8"))


def test_the_study_table(whole: Definition) -> None:
    """Aim, searched knob, second knob and all the figures; the tolerance in the knob's unit."""
    assert whole.goal == Goal(
        name="Tide table",
        aim=Aim.FRONTIER,
        knob="core_clock",
        along="core_voltage",
        target=0.8,
        minutes=180.0,
        seed=7,
        boldness=0.25,
        trust_suspicion=0.6,
        strategy="bisection",
        workload="long",
        tolerance=0.05,
        confidence=0.9,
        cold_boots=2,
    )
    assert whole.searched is whole.knobs["core_clock"]
    assert whole.workload is whole.workloads["long"]


def test_the_rig_and_its_groups(whole: Definition) -> None:
    """Parts with and without a price; saved slots; a group's own restart."""
    parts = (Part("Board C", 240.5), Part("Cooler", None))
    brackets = (("small", 250.0), ("middle", 900.5))
    rig = Rig(parts, 4.0, ("A", "B"), Standard.DDR5, "water", brackets, "crowns")
    assert whole.rig == rig
    assert whole.groups == {"core": Group("core"), "memory": Group("memory", 2.5, 10.0)}


def test_the_knobs(whole: Definition) -> None:
    """Bounds in any unit of their kind, in the knob's own afterwards; ceilings; choices."""
    clock, voltage, gear, _ = whole.knobs.values()
    assert (clock.unit, clock.grid) == ("GHz", Grid(4.6, 5.6, 0.025))
    assert (clock.expected, clock.where, clock.each) == ((5.0, 5.4), Where.LIVE, 1)
    assert (clock.change_minutes, clock.ceilings) == (0.1, Ceilings(5.3))
    assert (voltage.stock, voltage.harder, voltage.supports) == (1.2, Harder.DOWN, ("core_clock",))
    assert voltage.ceilings == Ceilings(1.3, 1.35, 1.38)
    assert (voltage.where, voltage.change_minutes, voltage.each) == (Where.FIRMWARE, 0.3, 1)
    assert (gear.values, gear.stock, gear.group) == (("auto", 1.0, 2.0), "auto", "memory")
    coolant = whole.knobs["coolant"]
    assert (coolant.cools, coolant.lifts_voltage) == (True, False)
    stock = {"core_clock": 4.8, "core_voltage": 1.2, "gear": "auto", "coolant": 25.0}
    assert whole.stock == stock


def test_derived_values_rules_and_readings(whole: Definition) -> None:
    """Their ceilings and stops are in their own units."""
    assert whole.derived["real_clock"].ceilings == Ceilings(5200.0, 5300.0, 5400.0)
    assert not whole.derived["volts_too"].ceilings.given
    assert whole.numbers(whole.stock)["real_clock"] == 4800.0
    assert [(r.name, r.kind) for r in whole.rules] == [
        ("cool", RuleKind.HARD),
        ("rule 2", RuleKind.NOTE),
    ]
    assert whole.readings == {
        "room": Reading("room", "C", "probe", None, Role.ROOM),
        "loaded": Reading("loaded", "V", "", 1.4),
        "damp": Reading("damp", "%", "", None, Role.HUMIDITY),
    }


def test_the_workloads(whole: Definition) -> None:
    """Sub-scores as a list or as a table of weights; what has some is scored unless told."""
    assert whole.workloads == {
        "short": Workload(
            "short", 5.0, 0.0, ("core", "memory"), (("shade", None), ("pack", None)), True
        ),
        "long": Workload(
            "long",
            30.0,
            12.0,
            (),
            (("shade", 2.75), ("pack", 1.0)),
            False,
            Combining.SUM,
            (("mine", 2417.0), ("theirs", 2500.5)),
            "2.1",
            True,
        ),
    }


def test_the_mains(whole: Definition) -> None:
    """In V, A and W."""
    assert whole.mains == Mains(230.0, 16.0, 200.0, 0.95, 0.9, Code.NEC)


def test_the_drive(whole: Definition) -> None:
    """Commands are argument lists; times may carry units."""
    assert whole.drive is not None
    assert whole.drive.score is not None
    assert whole.drive.score.pattern == "total: ([0-9.]+)"
    assert replace(whole.drive, score=None) == Drive(
        apply=("set-values", "--quietly"),
        workload=("./load", "10 min"),
        restore=("set-values", "--stock"),
        probe=("sensors",),
        score_file="out/score.json",
        grace_minutes=1.5,
        apply_minutes=0.5,
        probe_seconds=6.0,
    )
    assert read(tables()).drive is None


def test_the_claim_rules(whole: Definition) -> None:
    """Rules on settings are inequalities over knobs and derived values."""
    rules = whole.claim_rules
    assert [rule.text for rule in rules.settings] == ["core_voltage <= 1.3"]
    assert replace(rules, settings=()) == ClaimRules(
        workload="long",
        version="2.1",
        subscores=True,
        readings=("room",),
        pictures=("score.png",),
        cooling=("air", "water"),
        bracket="small",
        trusted_clock=("core_clock",),
        also=("a witness",),
    )


def test_scores_to_beat_may_go_without_names() -> None:
    """They are then called by what they are."""
    given = tables(workload=[{"name": "w", "beat": [2417, 2500.5]}])
    assert read(given).workloads["w"].beat == (("2417", 2417.0), ("2500.5", 2500.5))


def test_what_is_left_out_has_its_default() -> None:
    """One knob is a study: its edge, at 0.9, by the first strategy, in runs of five minutes."""
    definition = read(tables())
    assert (definition.goal, definition.rig) == (Goal(), Rig())
    assert (definition.goal.aim, definition.goal.target) == (Aim.EDGE, 0.9)
    assert definition.workloads == {"run": Workload("run", 5.0)}
    assert definition.knobs["clock"].ceilings == Ceilings()
    assert (definition.groups, definition.derived, definition.rules) == ({}, {}, ())


def test_the_first_knob_with_a_range_is_searched() -> None:
    """Unless the study names one."""
    assert read(tables(mode(), ratio(), clock())).searched.name == "ratio"
    assert read(tables(mode(), ratio(), clock(), study={"knob": "clock"})).searched.name == "clock"
    assert read(tables(mode())).searched is None


def test_every_time_may_carry_its_unit() -> None:
    """All minutes of a definition are read alike."""
    assert read(tables(clock(change_minutes="0.5 min"))).knobs["clock"].change_minutes == 0.5


def test_values_go_from_the_easiest_to_the_hardest() -> None:
    """Upwards for a clock, downwards for a voltage that is lowered."""
    assert read(tables(clock())).knobs["clock"].values[:2] == (4000.0, 4100.0)
    assert read(tables(volts())).knobs["volts"].values[:2] == (1.4, 1.395)


@pytest.mark.parametrize("aim", ["edge", "frontier", "peak", "everyday", "trim"])
def test_every_aim_is_taken(aim: str) -> None:
    """A definition may have an aim that a later version searches."""
    assert read(tables(study={"aim": aim})).goal.aim == aim
