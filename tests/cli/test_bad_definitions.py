"""What a person may get wrong in study.toml: one message, exit code 2, nothing written."""

import pytest

from tests.cli.typed import STUDY, ledger, made, planner

EDITS = {  # what is replaced, by what, and what the message must name
    "unknown key": (
        "step = 50",
        "step = 50\nevryday = 9",
        ["[[knob]] clock", "'evryday'", "'everyday'"],
    ),
    "unknown table": ("[[reading]]", "[[readings]]", ["readings", "reading"]),
    "step does not divide": ("step = 50", "step = 300", ["clock", "step = 300", "divisor"]),
    "step is zero": ("step = 50", "step = 0", ["clock", "step = 0", "positive"]),
    "range upside down": ("high = 5000", "high = 3000", ["clock", "high = 3000", "low = 4000"]),
    "stock out of range": ("stock = 4200", "stock = 5200", ["clock", "5200 MHz", "4000 MHz"]),
    "stock off the steps": ("stock = 4200", "stock = 4210", ["clock", "4210 MHz", "50 MHz"]),
    "ceilings out of order": (
        "own_risk = 1.35",
        "own_risk = 1.24",
        ["volts", "everyday = 1.25", "own_risk = 1.24"],
    ),
    "ceiling leaves nothing": ("everyday = 1.25", "everyday = 0.9", ["volts", "everyday = 0.9"]),
    "knob named twice": ('name = "volts"', 'name = "clock"', ["clock", "twice", "once"]),
    "circle": ('product = ["clock"', 'product = ["fabric"', ["fabric", "circle", "knobs"]),
    "units don't match": ('unit = "x"', 'unit = "V"', ["fabric", "product", "MHz"]),
    "unit of a value": ("step = 50", 'step = "50 V"', ["clock", "'V'", "expected MHz"]),
    "not finite": ("high = 5000", "high = inf", ["clock", "high = inf", "finite"]),
    "not a number": ("high = 5000", "high = nan", ["clock", "high = nan", "finite"]),
    "a word": ("high = 5000", 'high = "lots"', ["clock", "high = 'lots'", "a number in MHz"]),
    "missing": ("stock = 4200\n", "", ["clock", "stock", "missing"]),
    "unknown direction": ('harder = "up"', 'harder = "left"', ["clock", "harder", "'left'", "up"]),
    "supports nobody": ('supports = ["clock"]', 'supports = ["clok"]', ["volts", "clok", "clock"]),
    "unknown aim": ("[study]", '[study]\naim = "fame"', ["[study]", "aim = 'fame'", "edge"]),
    "target too high": ("[study]", "[study]\ntarget = 0.99", ["[study]", "target = 0.99", "0.985"]),
    "empty file": (STUDY, "", ["[[knob]]", "at least one"]),
    "no TOML": ("step = 50", "step = ", ["not readable as TOML", "line"]),
}


@pytest.mark.parametrize("command", ["check", "next"])
@pytest.mark.parametrize(("old", "new", "named"), EDITS.values(), ids=EDITS)
def test_a_wrong_definition_is_refused(old: str, new: str, named: list[str], command: str) -> None:
    """The message names file, key, value and what was expected."""
    folder = made()
    before = ledger(folder)
    assert old in STUDY
    (folder / "study.toml").write_text(STUDY.replace(old, new, 1), encoding="utf-8")
    refused = planner(command)
    assert (refused.exit_code, refused.stdout) == (2, "")
    assert refused.stderr.startswith("Error: study.toml: ")
    assert [name for name in named if name not in refused.stderr] == []
    assert "Traceback" not in refused.stderr
    assert ledger(folder) == before


def test_runs_can_be_recorded_beside_a_broken_definition() -> None:
    """record and show go on with the last good definition."""
    folder = made()
    (folder / "study.toml").write_text("[study", encoding="utf-8")
    assert planner("record", "pass", "--as-is").exit_code == 0
    assert planner("show").exit_code == 0
    assert planner("next").exit_code == 2


def test_a_definition_that_is_no_text_is_refused() -> None:
    """Bytes that are not UTF-8 are named as such."""
    folder = made()
    (folder / "study.toml").write_bytes(b"[study]\nname = '\xff'\n")
    refused = planner("check")
    assert refused.exit_code == 2
    assert "UTF-8" in refused.stderr


@pytest.mark.parametrize(("key", "command"), [("mirror", "mirror FOLDER"), ("store", "move NAME")])
@pytest.mark.parametrize("where", ["", "[study]\n"])
def test_where_the_ledger_stands_is_no_part_of_it(key: str, command: str, where: str) -> None:
    """The command that writes it where it belongs is named."""
    folder = made()
    edited = STUDY.replace(
        "[study]\n", f'{where}{key} = "/mnt/stick"\n' + ("[study]\n" * (not where))
    )
    (folder / "study.toml").write_text(edited, encoding="utf-8")
    refused = planner("check")
    assert refused.exit_code == 2
    assert f"{key}: expected in store.toml" in refused.stderr
    assert f"planner {command}" in refused.stderr
