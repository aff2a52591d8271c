"""`planner drive`: nothing runs before the person has seen it and agreed to the letter."""

import json
import sys

import pytest

from tests.cli.drives import HOLDS, KNOB, RESTORES, outcomes, restored, text
from tests.cli.typed import ledger, made, planner, told


def test_nothing_runs_before_it_was_agreed_to() -> None:
    """Exit code 4 and an unchanged ledger; agreed once, it is not asked again."""
    folder = made(text=text())
    before = ledger(folder)
    refused = planner("drive")
    assert refused.exit_code == 4
    assert "nobody has agreed" in refused.stderr
    assert (ledger(folder), (folder / "restored").exists()) == (before, False)
    told("drive", "--agree", "--runs", "1")
    told("drive", "--runs", "1")
    assert len(outcomes(folder)) == 2


def test_an_agreement_holds_for_the_exact_text() -> None:
    """Another argument, another folder or another script is asked about anew."""
    script = KNOB + f'\n[drive]\napply = ["{sys.executable}", "set.py"]\n'
    script += f'workload = ["{sys.executable}", "-c", "pass"]\n'
    script += f'restore = ["{sys.executable}", "-c", "pass"]\n'
    folder = made(text=script)
    (folder / "set.py").write_text("pass", encoding="ascii")
    told("drive", "--agree", "--runs", "1")
    (folder / "set.py").write_text("pass # edited", encoding="ascii")
    assert planner("drive", "--runs", "1").exit_code == 4
    told("drive", "--agree", "--runs", "1")
    (folder / "study.toml").write_text(script.replace('"pass"', '"pass "', 1), encoding="ascii")
    assert planner("drive", "--runs", "1").exit_code == 4
    assert len(outcomes(folder)) == 2


def test_commands_edited_in_mid_drive_do_not_run() -> None:
    """A workload that rewrites study.toml gets nothing else run."""
    edit = "t = open('study.toml').read().replace('restored', 'evil');"
    edit += "open('study.toml', 'w').write(t)"
    folder = made(text=text(apply="pass", workload=edit))
    stopped = planner("drive", "--agree")
    assert stopped.exit_code == 4
    assert "were edited" in stopped.stderr
    assert outcomes(folder) == ["pass"]
    assert not (folder / "evil").exists()
    assert restored(folder) == ["4200"]


@pytest.mark.parametrize(("answer", "code"), [("yes", 0), ("no", 4), ("", 4)])
def test_on_a_terminal_it_asks(answer: str, code: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only a typed yes is one."""
    monkeypatch.setattr("planner.cli.drive.interactive", lambda: True)
    folder = made(text=text())
    asked = planner("drive", "--runs", "1", typed=f"{answer}\nno\n")
    assert asked.exit_code == code
    assert len(outcomes(folder)) == (code == 0)


def test_a_dry_run_runs_nothing() -> None:
    """It shows every command; an agreement beside it is not kept."""
    folder = made(text=text())
    shown = told("drive", "--dry-run", "--agree").stdout
    assert all(json.dumps(code) in shown for code in (HOLDS, RESTORES))
    assert outcomes(folder) == []
    assert planner("drive").exit_code == 4


@pytest.mark.parametrize(
    ("study", "said"),
    [
        (KNOB, "no [drive] table"),
        (text(knob=KNOB.replace('where = "live"', "")), 'where = "firmware": expected "live"'),
        (text(knob=KNOB.replace("clock", "bench")), "PLANNER_BENCH, which the planner uses"),
        (
            text(
                knob=KNOB.replace("edge", "peak") + '[[knob]]\nname = "b"\nlow = 1\nhigh = 2\n'
                "step = 1\nstock = 1\n"
            ).replace('knob = "clock"', 'aim = "peak"'),
            "[[knob]] b: where",
        ),
    ],
)
def test_what_cannot_be_driven(study: str, said: str) -> None:
    """No commands, a knob that needs the firmware, a name that is taken."""
    made(text=study)
    refused = planner("drive", "--agree")
    assert refused.exit_code == 2
    assert said in refused.stderr


@pytest.mark.parametrize("program", ["./nothere", "no-such-program", "study.toml", "."])
@pytest.mark.parametrize("dry", [True, False])
def test_a_program_that_is_not_there_is_told_before_any_value_is_set(
    program: str, dry: bool
) -> None:
    """File, table, key, value, what was expected; the study's own files need a `./`."""
    folder = made(text=text() + f'heartbeat = ["{program}", "x"]\n')
    before = ledger(folder)
    refused = planner("drive", *(["--dry-run"] if dry else ["--agree"]))
    assert refused.exit_code == 2
    assert f"study.toml: [drive]: heartbeat = ['{program}', 'x']" in refused.stderr
    assert "expected a program" in refused.stderr
    assert (ledger(folder), (folder / "restored").exists()) == (before, False)
