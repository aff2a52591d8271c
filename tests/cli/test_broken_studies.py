"""Studies that are missing, damaged, too new, or on a disk that refuses."""

import json
from pathlib import Path

import pytest

from planner.store.file import FileLedger
from planner.store.lines import EMPTY
from tests.cli.typed import STUDY, ledger, made, planner, told
from tests.store.makers import sealed

READERS = (["show"], ["next"], ["record", "pass", "--as-is"], ["check"], ["close"], ["reopen"])


@pytest.fixture
def folder() -> Path:
    """A study with a few entries."""
    folder = made()
    told("record", "pass", "--as-is")
    told("next")
    return folder


@pytest.mark.parametrize("arguments", READERS)
def test_without_a_study_the_way_to_one_is_named(arguments: list[str]) -> None:
    """No folder for studies, or an empty one: exit code 2 and how to make the first."""
    for _ in range(2):
        missing = planner(*arguments)
        assert missing.exit_code == 2
        assert "planner new NAME" in missing.stderr
        Path("studies").mkdir(exist_ok=True)


def test_a_name_that_is_none_gets_the_nearest(folder: Path) -> None:
    """A slip in the name is answered with the name that is meant."""
    missing = planner("show", "bxo")
    assert missing.exit_code == 2
    assert "did you mean 'box'?" in missing.stderr


def test_a_folder_without_a_study_is_none() -> None:
    """Neither study.toml nor ledger: exit code 2, and nothing is made there."""
    Path("studies/box").mkdir(parents=True)
    missing = planner("show", "box")
    assert missing.exit_code == 2
    assert "neither study.toml nor ledger.jsonl" in missing.stderr
    assert list(Path("studies/box").iterdir()) == []


def test_an_empty_ledger_begins_anew(folder: Path) -> None:
    """Its first entry is the definition, as in a new study."""
    (folder / "ledger.jsonl").write_bytes(b"")
    shown = json.loads(told("show", "--json").stdout)
    assert (shown["head"]["seq"], shown["runs"], shown["pending"]) == (1, [], [])


def test_a_definition_that_is_gone_stops_only_what_needs_it(folder: Path) -> None:
    """record and show go on from the ledger; next and check name the file, exit code 2."""
    (folder / "study.toml").unlink()
    told("record", "pass")
    told("show")
    for command in ("next", "check"):
        missing = planner(command)
        assert missing.exit_code == 2
        assert "study.toml" in missing.stderr


def test_among_several_a_name_is_asked_for(folder: Path) -> None:
    """Exit code 2 with the names; each is reached by -s, by name and by path."""
    told("new", "other")
    several = planner("show")
    assert several.exit_code == 2
    assert "box, other" in several.stderr
    for named in (["-s", "box"], ["box"], [str(Path("studies", "box"))]):
        assert "planner next -s" in told("show", *named).stdout


def test_studies_can_stand_elsewhere(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """PLANNER_STUDIES names the folder that holds them."""
    monkeypatch.setenv("PLANNER_STUDIES", str(folder.parent.resolve()))
    monkeypatch.chdir(folder)
    assert "box" in told("show").stdout


def test_a_new_study_never_replaces_one(folder: Path) -> None:
    """Exit code 2, and both files are as before."""
    before = ledger(folder), (folder / "study.toml").read_bytes()
    taken = planner("new", "box")
    assert taken.exit_code == 2
    assert "holds a study already" in taken.stderr
    assert (ledger(folder), (folder / "study.toml").read_bytes()) == before


@pytest.mark.parametrize("name", ["a\x1b[2J", "x" * 61, 'a"b', "a:b", "a$b", "/"])
def test_a_new_study_has_a_sane_name(name: str) -> None:
    """Names that some systems refuse, or that could steer a terminal, are refused."""
    refused = planner("new", name)
    assert refused.exit_code == 2
    assert "\x1b" not in refused.stderr
    assert not Path("studies").exists()


@pytest.mark.parametrize("arguments", READERS)
def test_a_spoilt_line_stops_every_command(folder: Path, arguments: list[str]) -> None:
    """Exit code 6, the line is named, and no byte changes."""
    spoilt = ledger(folder).replace(b'"outcome":"pass"', b'"outcome":"boss"')
    (folder / "ledger.jsonl").write_bytes(spoilt)
    damaged = planner(*arguments)
    assert (damaged.exit_code, damaged.stdout) == (6, "")
    assert "ledger.jsonl is damaged" in damaged.stderr
    assert "line 2" in damaged.stderr
    assert ledger(folder) == spoilt


def test_check_repairs_what_is_spoilt(folder: Path) -> None:
    """--repair sets the line aside and keeps a copy; after it every command works again."""
    spoilt = ledger(folder).replace(b'"outcome":"pass"', b'"outcome":"boss"')
    (folder / "ledger.jsonl").write_bytes(spoilt)
    assert "Repaired: line 2" in told("check", "--repair").stdout
    assert (folder / "ledger.jsonl.damaged-1").read_bytes() == spoilt
    told("show")


def test_repairing_a_whole_ledger_changes_nothing(folder: Path) -> None:
    """There is nothing to set aside."""
    before = ledger(folder)
    told("check", "--repair")
    assert ledger(folder) == before


def test_a_torn_tail_costs_the_entry_that_was_never_confirmed(folder: Path) -> None:
    """Cut in its last line, as by a power cut, the ledger is read without that line."""
    whole = ledger(folder)
    (folder / "ledger.jsonl").write_bytes(whole[:-10])
    assert json.loads(told("show", "--json").stdout)["pending"] == []
    told("next")
    assert ledger(folder).startswith(whole[: whole.rindex(b"\n", 0, -1) + 1])


def test_a_torn_tail_is_told_by_check_and_set_aside_by_its_repair(folder: Path) -> None:
    """Its bytes are kept; afterwards there is nothing to tell."""
    whole = ledger(folder)
    (folder / "ledger.jsonl").write_bytes(whole[:-10])
    kept = whole[: whole.rindex(b"\n", 0, -1) + 1]
    assert "is not whole" in told("check").stderr
    mended = told("check", "--repair")
    assert "A torn last line" in mended.stdout
    assert (ledger(folder), mended.stderr) == (kept, "")
    assert (folder / "ledger.jsonl.torn").read_bytes() == whole[len(kept) : -10] + b"\n"
    assert "torn" not in told("check", "--repair").output


def test_a_newer_format_is_refused_politely(folder: Path) -> None:
    """Exit code 2: it is no damage, and nothing is written."""
    newer = ledger(folder) + sealed(b'{"format":2,"seq":4') + b"\n"
    (folder / "ledger.jsonl").write_bytes(newer)
    refused = planner("record", "pass")
    assert refused.exit_code == 2
    assert "newer planner" in refused.stderr
    assert ledger(folder) == newer


@pytest.mark.parametrize("arguments", [["record", "pass"], ["reopen"], ["boot", "cold"]])
def test_a_disk_that_refuses_is_said_so(folder: Path, arguments: list[str]) -> None:
    """Exit code 6; a folder in the place of the lock refuses on every system, root included."""
    before = ledger(folder)
    (folder / "ledger.jsonl.lock").unlink()
    (folder / "ledger.jsonl.lock").mkdir()
    refused = planner(*arguments)
    assert refused.exit_code == 6
    assert "What was confirmed before still stands" in refused.stderr
    assert ledger(folder) == before


def test_a_held_ledger_is_busy(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit code 5 after the wait, shortened here; nothing is written."""
    from filelock import FileLock

    monkeypatch.setattr(FileLedger.__init__, "__defaults__", (0.0,))
    before = ledger(folder)
    with FileLock(folder / "ledger.jsonl.lock"):
        busy = planner("record", "pass")
    assert busy.exit_code == 5
    assert "held by another program" in busy.stderr
    assert ledger(folder) == before


def test_a_defect_is_called_one(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A strategy that asks for what the gate forbids: exit code 1, nothing written."""
    told("record", "crash")
    before = ledger(folder)
    monkeypatch.setattr("planner.gate.Gate.objections", lambda self, setting: ["too high"])
    monkeypatch.setattr("planner.gate.Gate.permitted_values", lambda self, knob, _: knob.values)
    defect = planner("next")
    assert defect.exit_code == 1
    assert "too high" in defect.stderr
    assert "defect of the planner" in defect.stderr
    assert ledger(folder) == before


def test_a_head_given_away_earlier_still_holds(folder: Path) -> None:
    """As show prints it, or in full; a lost tail or a rewrite is exit code 6."""
    printed = told("show").stdout.split("head ")[1].split()[0]
    head = json.loads(told("show", "--json").stdout)["head"]
    told("record", "pass")
    for given in (printed, f"{head['seq']}:{head['chain']}"):
        assert "still holds" in told("check", "--head", given).stdout
    for lost in (f"{head['seq']}:{'0' * 16}", f"{head['seq'] + 9}:{head['chain']}"):
        gone = planner("check", "--head", lost)
        assert gone.exit_code == 6
        assert "NOT" in gone.stdout


def test_an_empty_ledger_has_no_head_but_its_own() -> None:
    """The head before the first entry holds of every ledger."""
    made()
    told("check", "--head", f"{EMPTY.seq}:{EMPTY.chain}")


def test_check_names_what_to_know(folder: Path) -> None:
    """Broken notes at stock and voltages without ceiling are said, and are no error."""
    text = STUDY.replace("everyday = 1.25\nown_risk = 1.35\nhard_stop = 1.38\n", "")
    text += '\n[[rule]]\nname = "fast"\nholds = "clock >= 4400"\n'
    (folder / "study.toml").write_text(text, encoding="utf-8")
    said = told("check").stdout
    assert "taken over as edited" in said
    assert "fast, clock >= 4400 (4200 against 4400)" in said
    assert "volts has no everyday ceiling: nothing above stock, 1.2 V" in said
