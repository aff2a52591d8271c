"""planner timing explain and read, planner new --spd: as typed, from a study, from a module."""

import json
from pathlib import Path

import pytest

from planner.domain.parse import parse_text
from planner.domain.tables import RuleKind
from planner.report.text.broken_notes import broken_notes
from tests.cli.loaded import loaded_by
from tests.cli.typed import made, planner, told
from tests.trade.timing.spd_bytes import REAL_DDR4, REAL_DDR4_2400, REAL_DDR5, edited

ROOT = Path(__file__).resolve().parents[2]
TYPED = ("DDR5-6000", "tCL=30", "tRCD=38", "tRP=38", "tRAS=60", "tRC=90", "tRFC=480", "CR=2")


def one_line(text: str) -> str:
    """The words of a screen, wherever its lines end."""
    return " ".join(text.split())


@pytest.fixture
def module() -> Path:
    """A real DDR5-4800 module's bytes in a file."""
    file = Path("dump.bin")
    file.write_bytes(REAL_DDR5)
    return file


@pytest.fixture
def study(module: Path) -> Path:
    """A study of that module, with stock passed."""
    told("new", "mem", "--spd", module)
    told("record", "pass", "--as-is")
    return Path("studies/mem")


def test_typed_timings_are_explained() -> None:
    """What binds, what refresh costs, what the standard asks, what another rate would take."""
    said = one_line(told("timing", "explain", *TYPED, "--at", "6400").stdout)
    assert "30 clocks (10 ns) after the read" in said
    assert "106 clocks (35.33 ns)" in said
    assert "98 clocks (32.67 ns); tRC 90 is too short to matter" in said
    assert "480 clocks (160 ns); due every 3.9 us by the standard, that is 4.1%" in said
    assert "tRAS 96 (here 60). A note, no verdict" in said
    assert "the same nanoseconds take tCL 32, tRCD 41" in said
    assert "tCR 2 is a plain count of clocks and would stay" in said


def test_json_has_figures_and_sentences() -> None:
    """One object in ASCII, with the schema's number."""
    printed = told("timing", "explain", *TYPED, "--at", "4800", "--json").stdout
    document = json.loads(printed)
    assert printed.isascii()
    assert (document["schema"], document["standard"], document["data_rate"]) == (1, "DDR5", 6000)
    assert document["timings"]["tCL"] == {"clocks": 30, "ns": 10.0, "scales_with_time": True}
    assert document["timings"]["tCR"]["scales_with_time"] is False
    assert document["at"]["timings"]["tCL"]["clocks"] == 24
    (rule,) = document["rules"]
    assert rule == {
        "name": "row cycle",
        "holds": "tRC >= tRAS + tRP",
        "sides": [90, 98],
        "kept": False,
        "binding_clocks": 98,
    }
    assert document["below_standard"] == [{"timing": "tRAS", "clocks": 60, "standard_clocks": 96}]
    assert document["refresh_share"] == pytest.approx(160 / 3900)
    assert {"about": "Clock"}.items() <= document["sentences"][0].items()


def test_late_refresh_is_a_caution() -> None:
    """65535 clocks at 6000 MT/s are 21.8 us; the standard allows 3.9."""
    said = one_line(told("timing", "explain", "DDR5-6000", "tREFI=65535").stdout)
    assert "past the 3.9 us that the standard allows up to 85 C" in said
    assert "cells may lose data unnoticed" in said
    kept = one_line(told("timing", "explain", "DDR5-6000", "tREFI=3.9us").stdout)
    assert "within the 3.9 us" in kept


def test_what_ddr5_does_not_have() -> None:
    """Odd read latencies; a write latency that is not two below (JESD79-5A 3.5.2, note 2)."""
    said = one_line(told("timing", "explain", "DDR5-6000", "tCL=31", "tCWL=30").stdout)
    assert "tCL 31: DDR5 has even read latencies only" in said
    assert "tCWL 30: DDR5 writes two clocks sooner than it reads, 29" in said
    said = one_line(told("timing", "explain", "DDR4-4000", "tCL=17", "tCWL=17").stdout)
    assert "even" not in said
    assert "the standard has none: its last is DDR4-3200" in said


@pytest.mark.usefixtures("study")
def test_a_studys_settings() -> None:
    """The pending proposal first; stock and any run by name; typed timings in their place."""
    assert one_line(told("timing", "explain").stdout).startswith("mem, stock: DDR5-4800 ")
    proposal = json.loads(told("next", "--json").stdout)["proposal"]
    rate = round(proposal["settings"]["data_rate"])
    pending = json.loads(told("timing", "explain", "--json").stdout)
    assert (pending["of"], pending["data_rate"]) == ("mem, pending run 2", rate)
    assert pending["timings"]["tRFC"]["ns"] == pytest.approx(708 * 2000 / rate)
    for of, title in (("stock", "mem, stock"), ("1", "mem, run 1")):
        found = json.loads(told("timing", "explain", "--of", of, "--json").stdout)
        assert (found["of"], found["data_rate"]) == (title, 4800)
    typed = told("timing", "explain", "-s", "mem", "--of", "stock", "tCL=28", "DDR5-5600", "--json")
    found = json.loads(typed.stdout)
    assert (found["of"], found["data_rate"]) == ("mem, stock, with what was typed", 5600)
    assert (found["timings"]["tCL"]["clocks"], found["timings"]["tRP"]["clocks"]) == (28, 39)


def test_a_study_that_tells_no_standard() -> None:
    """It says where to write it, or takes it from the command."""
    made()
    refused = planner("timing", "explain")
    assert refused.exit_code == 2
    assert 'memory = "DDR5"' in refused.stderr
    refused = planner("timing", "explain", "DDR5")
    assert refused.exit_code == 2
    assert "nothing is in MT/s" in refused.stderr


@pytest.mark.usefixtures("study")
@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["DDR5-6000", "tCL=30.5"], "tCL = '30.5': expected whole clocks"),
        (["DDR5-6000", "x=3"], "no timing 'x' known"),
        (["DDR9"], "expected DDR4 or DDR5"),
        (["DDR5-6000", "tCL=30", "--at", "0"], "--at: data rate = 0"),
        (["DDR5-6000", "tCL=30", "--at", "fast"], "--at = 'fast'"),
        (["DDR5-6000", "--density", "5"], "--density '5': expected one of 8, 16"),
        (["DDR5-6000", "--density", "24Gb"], "leave --density out and type that time, as tRFC="),
        (["--of", "7"], "--of '7'"),
        (["--of", "pending"], "no run is pending"),
        (["-s", "nowhere"], "no study 'nowhere'"),
    ],
)
def test_slips_are_refused(arguments: list[str], named: str) -> None:
    """Exit code 2, nothing on stdout, and the message names what was typed."""
    refused = planner("timing", "explain", *arguments)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert named in refused.stderr


@pytest.mark.parametrize("words", [[], ["tCL=30"], ["DDR5"]])
def test_without_a_data_rate_or_a_study(words: list[str]) -> None:
    """It says what to type, to somebody who has no study."""
    refused = planner("timing", "explain", *words)
    assert refused.exit_code == 2
    assert "or type the data rate too, as DDR5-6000 tCL=30" in one_line(refused.stderr)


def test_the_supply_that_ddr4_is_rated_for() -> None:
    """1.14 to 1.26 V, absolute maximum 1.5 V: JESD79-4, as a module's data sheet has them; of
    DDR5 nothing is said, for want of a source. It stands where ceilings are filled in too."""
    for name, raw in (("four.bin", REAL_DDR4), ("five.bin", REAL_DDR5)):
        Path(name).write_bytes(raw)
    said = one_line(told("timing", "read", "four.bin").stdout)
    assert "DDR4 works at 1.14 to 1.26 V. 1.5 V is its absolute maximum, a stress rating" in said
    assert "absolute maximum" not in told("timing", "read", "five.bin").stdout
    told("new", "mem", "--spd", "four.bin")
    text = Path("studies/mem/study.toml").read_text()
    assert "1.5 V is the standard's stress rating" in text
    assert "# everyday =" in text


def test_chips_that_no_source_tells_of() -> None:
    """A made-up module of 24 Gb chips tells its own time; the standard's is not known."""
    Path("big.bin").write_bytes(edited(REAL_DDR5, {4: 0x05, 42: 0x9A, 43: 0x01}))
    said = one_line(told("timing", "read", "big.bin").stdout)
    assert "one takes 983 clocks (409.6 ns)" in said
    assert "What the standard gives 24 Gb chips no open source tells" in said


def test_a_module_is_read(module: Path) -> None:
    """Its clocks as the bin 40-39-39 has them, in sentences and for programs."""
    said = one_line(told("timing", "read", module).stdout)
    assert "dump.bin: DDR5-4800" in said
    assert "chips of 16 Gb with 8 data lines, nominally 1.1 V" in said
    assert "tCL 40, tRCD 39, tRP 39, tRAS 77, tRC 116, tWR 72" in said
    document = json.loads(told("timing", "read", module, "--json").stdout)
    assert (document["schema"], document["clock_ps"]) == (1, 416)
    assert document["least_ps"]["tRFC"] == 295_000


@pytest.mark.parametrize("command", [["timing", "read"], ["new", "box", "--spd"]])
@pytest.mark.parametrize(
    ("raw", "named"),
    [
        (None, "cannot be read"),
        (b"", "0 bytes, expected at least 128"),
        (REAL_DDR5[:300], "300 bytes, expected at least 512"),
        (edited(REAL_DDR4, {2: 0x0B}), "DDR3"),
        (REAL_DDR4[:20] + b"\1" + REAL_DDR4[21:], "check sum"),
    ],
)
def test_a_bad_dump_is_refused(raw: bytes | None, named: str, command: list[str]) -> None:
    """Exit code 2; no study is made."""
    if raw is not None:
        Path("bad.bin").write_bytes(raw)
    refused = planner(*command, "bad.bin")
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert "bad.bin" in refused.stderr
    assert named in refused.stderr
    assert not Path("studies").exists()


@pytest.mark.parametrize("raw", [REAL_DDR4, REAL_DDR4_2400, REAL_DDR5], ids=["3200", "2400", "5"])
def test_a_study_of_a_module(raw: bytes) -> None:
    """Stock is the module's own, in range and keeping every note; no ceiling is filled in."""
    Path("dump.bin").write_bytes(raw)
    told("new", "mem", "--spd", "dump.bin")
    text = Path("studies/mem/study.toml").read_text(encoding="utf-8")
    definition = parse_text(text)
    document = json.loads(told("timing", "read", "dump.bin", "--json").stdout)
    stock = definition.stock
    assert stock["data_rate"] == document["data_rate"]
    for name in ("tCL", "tRCD", "tRP", "tRAS", "tRC", "tRFC"):
        knob = definition.knobs[name]
        assert stock[name] == document["timings"][name]
        assert knob.grid is not None
        assert knob.grid.low < stock[name] < knob.grid.high
        # the same time at the highest rate is still in range
        assert knob.grid.high * document["data_rate"] >= stock[name] * _top(text)
    volts = definition.knobs["memory_voltage"]
    assert (volts.stock, volts.ceilings.given) == (document["volts"], False)
    assert len(definition.rules) == 4
    assert {rule.kind for rule in definition.rules} == {RuleKind.NOTE}
    assert broken_notes(definition, stock) == []
    assert len(text.splitlines()) < 150
    told("record", "pass", "--as-is")
    proposal = json.loads(told("next", "--json").stdout)["proposal"]
    assert proposal["settings"]["memory_voltage"] == volts.stock
    broken = {note["name"]: note for note in proposal["notes_broken"]}
    if proposal["settings"]["data_rate"] > stock["data_rate"] * 1.05:
        assert {"row restored", "refresh"} <= broken.keys()
        assert "Note: it breaks" in one_line(told("next").stdout)


def _top(text: str) -> float:
    grid = parse_text(text).knobs["data_rate"].grid
    assert grid is not None
    return grid.high


def test_a_template_beside_a_dump(module: Path) -> None:
    """Memory, or none."""
    told("new", "one", "--spd", module, "--template", "memory")
    refused = planner("new", "two", "--spd", module, "--template", "core")
    assert refused.exit_code == 2
    assert "--template core with --spd" in refused.stderr


def test_notes_are_news_only_where_stock_keeps_them(study: Path) -> None:
    """check tells what stock breaks; next and show tell what stock does not."""
    file = study / "study.toml"
    text = file.read_text(encoding="utf-8")
    rule = '[[rule]]\nname = "always"\nholds = "tCL >= 99"\n\n[[reading]]\nname = "module"'
    file.write_text(text.replace('[[reading]]\nname = "module"', rule), encoding="utf-8")
    checked = one_line(told("check").stdout)
    assert "Stock breaks a rule kept as a note: always, tCL >= 99 (40 against 99)." in checked
    asked, shown = one_line(told("next").stdout), one_line(told("show").stdout)
    assert "always" not in asked + shown
    assert "it breaks row restored, 2000 * tRAS / data_rate >= 32 (" in asked
    assert "the pending run breaks row restored" in shown
    document = json.loads(told("next", "--json").stdout)["proposal"]["notes_broken"]
    assert {note["name"]: note["at_stock"] for note in document}["always"] is True


def test_a_note_is_told_in_full_once(module: Path) -> None:
    """The next proposal that breaks it names it; figures stay in the JSON."""
    told("new", "mem", "--spd", module)
    told("record", "pass", "--set", "data_rate=4800")
    assert "it breaks row restored, 2000 * tRAS / data_rate >= 32 (" in one_line(
        told("next").stdout
    )
    told("record", "pass")
    asked = one_line(told("next").stdout)
    assert "Note: it breaks row restored, refresh, as a run before did." in asked
    assert "2000 *" not in asked
    document = json.loads(told("next", "--json").stdout)["proposal"]["notes_broken"]
    assert all(note["sides"] for note in document)


def test_it_loads_nothing_slow(module: Path) -> None:
    """Typed timings and dumps need neither numpy nor a study."""
    for arguments in (["timing", "explain", *TYPED], ["timing", "read", str(module)]):
        loaded = loaded_by(arguments)
        assert "planner.trade.timing.names" in loaded
        assert not {"numpy", "pandas", "matplotlib", "optuna", "scipy"} & loaded
