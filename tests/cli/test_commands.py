"""The command line as a whole: every command has help and a place in the documentation."""

import json
import re
import sys
from importlib import import_module
from pathlib import Path

import pytest
import typer

from planner.cli import console
from planner.cli.app import COMMANDS
from planner.cli.studies import study_names
from planner.errors import PlannerError
from tests.cli.typed import made, planner, told

ROOT = Path(__file__).resolve().parents[2]
DOCUMENT = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")

UNDER = {
    name: tuple(getattr(import_module(module), "COMMANDS", ()))
    for name, (module, _) in COMMANDS.items()
}
"""The commands under each command; mostly none."""


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help(name: str) -> None:
    """The list has a line for it, and its own --help says more."""
    listed = told("--help").stdout
    assert re.search(rf"^  {name} +\S", listed, re.MULTILINE)
    own = told(name, "--help").stdout
    assert own.startswith(f"Usage: planner {name}") or f" {name} " in own.splitlines()[0]
    assert len(own.splitlines()) > 5


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_and_option_is_documented(name: str) -> None:
    """docs/commands.md has a section for it that names each of its options."""
    section = re.search(rf"^## {name}\n(.*?)(?=^## |\Z)", DOCUMENT, re.MULTILINE | re.DOTALL)
    assert section is not None
    helps = [told(*words, "--help").stdout for words in [[name], *([name, u] for u in UNDER[name])]]
    options = set(re.findall(r"--[a-z][a-z-]*", "\n".join(helps))) - {"--help"}
    assert [under for under in UNDER[name] if f"planner {name} {under} " not in section[1]] == []
    common = DOCUMENT[: DOCUMENT.index("\n## ")]
    assert [o for o in options if o not in section[1] + common] == []


def test_no_document_speaks_of_a_command_that_is_none() -> None:
    """Sections of docs/commands.md are commands."""
    assert set(re.findall(r"^## (.+)$", DOCUMENT, re.MULTILINE)) == set(COMMANDS)


def test_every_error_has_an_exit_code() -> None:
    """Whatever error is raised on purpose, a code from 1 to 7 goes with it."""
    kinds = [PlannerError]
    for kind in kinds:
        kinds += kind.__subclasses__()
    assert all(1 <= console.refuse(kind("said")) <= 7 for kind in kinds)


def test_an_unknown_command_is_answered_with_the_nearest() -> None:
    """A slip in the command's name is a usage error that names it."""
    slip = planner("recrod", "pass")
    assert slip.exit_code == 2
    assert "'record'" in slip.stderr


def test_names_of_studies_are_completed() -> None:
    """The shell is offered the studies that begin so."""
    made("box")
    told("new", "bench")
    told("new", "attic")
    assert study_names("b") == ["bench", "box"]


@pytest.mark.parametrize(
    ("command", "keys"),
    [
        ("next", "study proposal expected_readings answer_owed closed best best_everyday others"),
        (
            "show",
            "study aim target edges frontier best best_everyday runs pending minutes ceilings"
            " expected_readings closing closed head",
        ),
        (
            "check",
            "study adopted repaired head head_holds runs notes_broken_at_stock"
            " objections_to_stock no_everyday_ceiling",
        ),
    ],
)
def test_json_has_stable_keys(command: str, keys: str) -> None:
    """One object with the schema's number; programs rely on these names."""
    made()
    document = json.loads(told(command, "--json").stdout)
    assert document.pop("schema") == 1
    assert set(document) == set(keys.split())


def test_colour_is_left_out_where_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """NO_COLOR wins over a terminal; colour never carries a meaning of its own."""
    text = "Run 1\nAT YOUR OWN RISK: x"
    monkeypatch.delenv("NO_COLOR", raising=False)
    painted = console.styled(text)
    assert "\x1b" in painted
    assert re.sub(r"\x1b\[\d*m", "", painted) == text
    monkeypatch.setenv("NO_COLOR", "1")
    assert console.styled(text) == text


def test_the_table_of_commands_is_complete() -> None:
    """Each module has its function, or a table of commands that have; and typer takes it."""
    modules = [import_module(module) for module, _ in COMMANDS.values()]
    for loaded in modules:
        table = getattr(loaded, "COMMANDS", None)
        modules += [import_module(module) for module, _ in table.values()] if table else []
        assert table or callable(loaded.command)
    assert typer.main.get_command is not None


def test_talk_breaks_at_words_on_a_narrow_terminal(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Elsewhere a message stays one line, so that programs find it whole."""
    words = "Error: run = 99: is not on record, expected one of 1, 2, 3, 4, 5"
    monkeypatch.setattr(console, "width", lambda: 40)
    console.talk(words)
    assert capsys.readouterr().err == f"{words}\n"
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    console.talk(words)
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 2
    assert " ".join(lines) == words


def test_a_blank_ceiling_above_a_word_is_null_in_json() -> None:
    """A knob whose stock is a word may not rise at all: no number says so."""
    knob = 'harder = "choice"\nchoices = ["auto", 1.1, 1.2]\nstock = "auto"\nunit = "V"\n'
    text = (
        '[study]\nname = "box"\n[[knob]]\nname = "clock"\nlow = 1\nhigh = 9\nstep = 1\nstock = 2\n'
    )
    made(text=f'{text}[[knob]]\nname = "volts"\n{knob}[[workload]]\nname = "load"\nminutes = 5\n')
    (ceiling,) = json.loads(told("show", "--json").stdout)["ceilings"]
    assert ceiling["name"] == "volts"
    assert ceiling["everyday"] is None
    assert not ceiling["filled_in"]
