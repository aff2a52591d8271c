"""`planner drive` with real processes: who may run what, what is recorded, when it stops."""

import json
import signal
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from planner.domain.run import Proposal
from planner.driving.wish import Wish, heeding
from planner.study import Study
from tests.cli.typed import ledger, made, planner, told

KNOB = """\
[study]
name = "box"
knob = "clock"
minutes = 600

[[knob]]
name = "clock"
unit = "MHz"
low = 4000
high = 5000
step = 50
stock = 4200
where = "live"
everyday = 4600
own_risk = 4900

[[workload]]
name = "load"
minutes = 0.001
"""
HOLDS = "import os; raise SystemExit(float(os.environ['PLANNER_CLOCK']) > 4400)"
RESTORES = "import os; print(os.environ['PLANNER_CLOCK'], file=open('restored', 'a'))"


@pytest.fixture(autouse=True)
def _state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))


def text(
    apply: str = "pass", workload: str = HOLDS, restore: str = RESTORES, knob: str = KNOB
) -> str:
    """A study whose commands are these programs."""
    commands = {"apply": apply, "workload": workload, "restore": restore}
    lines = [
        f"{name} = {json.dumps([sys.executable, '-I', '-S', '-c', code])}"
        for name, code in commands.items()
    ]
    return knob + "\n[drive]\n" + "\n".join(lines) + "\n"


def outcomes(folder: Path) -> list[str]:
    """How its runs ended."""
    return [str(run.outcome) for run in Study.open(folder).history.runs]


def restored(folder: Path) -> list[str]:
    """The values that `restore` was handed, time after time."""
    return (folder / "restored").read_text(encoding="ascii").split()


def test_it_runs_and_records(tmp_path: Path) -> None:
    """Each run's outcome is its process's; the machine ends at stock."""
    folder = made(text=text())
    result = told("drive", "--agree", "--runs", "4")
    history = Study.open(folder).history
    assert len(history.runs) == 4
    for run in history.runs:
        assert run.outcome == ("pass" if float(run.ran["clock"]) <= 4400 else "crash")
    failed = sum(run.outcome.failed for run in history.runs)
    assert restored(folder) == ["4200"] * (failed + history.runs[-1].outcome.held)
    assert "Caution" in result.stderr
    assert "smoke alarm" in result.stderr
    assert json.dumps(HOLDS) in result.stdout


def test_accepted_risk_is_ignored() -> None:
    """On a machine that holds everything no run is above the everyday ceiling."""
    folder = made(text=text(workload="pass"))
    told("accept-risk", "clock", "--up-to", "4900")
    assert planner("drive", "--agree", "--runs", "12").exit_code in (0, 3)
    tried = [float(run.ran["clock"]) for run in Study.open(folder).history.runs]
    assert max(tried) == 4600


def test_a_pending_run_at_own_risk_is_not_driven() -> None:
    """It was asked for by `next` under an accepted risk; drive takes it back."""
    folder = made(text=text(workload="pass"))
    told("accept-risk", "clock", "--up-to", "4900")
    study = Study.open(folder)
    pending = study.next()
    while pending is not None and float(pending.settings["clock"]) <= 4600:
        study.record("pass")
        pending = study.next()
    assert pending is not None
    planner("drive", "--agree", "--runs", "2")
    history = Study.open(folder).history
    assert pending.settings not in [run.settings for run in history.runs]
    assert max(float(run.ran["clock"]) for run in history.runs) <= 4600


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


def test_values_that_cannot_be_set_stop_it() -> None:
    """Three times in a row, and a person is wanted."""
    folder = made(text=text(apply="raise SystemExit(9)"))
    stopped = planner("drive", "--agree")
    assert stopped.exit_code == 7
    assert "apply failed 3 times in a row" in stopped.stderr
    assert outcomes(folder) == ["void"] * 3


def test_a_machine_that_is_not_put_back_stops_it() -> None:
    """Nothing runs on after a failed restore."""
    folder = made(text=text(workload="raise SystemExit(1)", restore="raise SystemExit(1)"))
    stopped = planner("drive", "--agree")
    assert stopped.exit_code == 7
    assert "restore failed" in stopped.stderr
    assert outcomes(folder) == ["crash"]


def test_after_a_restart_the_pending_run_is_a_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is said, and the search goes on."""
    monkeypatch.setattr("planner.study.boot_mark", lambda: "one")
    folder = made(text=text())
    Study.open(folder).next()
    monkeypatch.setattr("planner.driving.loop.boot_mark", lambda: "two")
    went_on = told("drive", "--agree", "--runs", "1")
    assert "planner amend 1 void" in went_on.stderr
    assert outcomes(folder)[0] == "crash"
    assert len(outcomes(folder)) == 2


def test_twice_down_at_one_setting_stops_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The second restart at the same setting is recorded, and nothing more is run."""
    from planner.driving.loop import RESTARTED

    monkeypatch.setattr("planner.study.boot_mark", lambda: "one")
    folder = made(text=text())
    study = Study.open(folder)
    pending = study.next()
    assert pending is not None
    other = Study.open(folder)
    other._journal.bench = "right"
    other.record("crash", settings=pending.settings, note=RESTARTED)
    monkeypatch.setattr("planner.driving.loop.boot_mark", lambda: "two")
    stopped = planner("drive", "--agree")
    assert stopped.exit_code == 7
    assert "took the machine down in runs" in stopped.stderr
    assert outcomes(folder) == ["crash", "crash"]
    assert not (folder / "restored").exists()


INTERRUPTS = "import os; os.kill(os.getppid(), {number}); {then}"
HANG = "import threading; threading.Event().wait()"


def test_an_interrupt_finishes_the_run() -> None:
    """Ctrl-C once: the run is recorded as it ended, the values are restored, nothing follows."""
    folder = made(text=text(workload=INTERRUPTS.format(number=2, then="pass")))
    told("drive", "--agree")
    assert (outcomes(folder), restored(folder)) == (["pass"], ["4200"])


def test_a_closed_terminal_ends_the_run_at_once() -> None:
    """It is void, and the values are restored."""
    hangs = text(workload=INTERRUPTS.format(number=1, then=HANG))
    folder = made(text=hangs.replace("0.001", "60"))
    told("drive", "--agree")
    assert (outcomes(folder), restored(folder)) == (["void"], ["4200"])


def test_a_second_interrupt_is_at_once() -> None:
    """The first asks to finish, the second to end; afterwards interrupts do what they did."""
    wish, before = Wish(), signal.getsignal(signal.SIGINT)
    with heeding(wish):
        signal.raise_signal(signal.SIGINT)
        assert (wish.finish, wish.at_once) == (True, False)
        signal.raise_signal(signal.SIGINT)
        assert (wish.finish, wish.at_once) == (True, True)
    assert signal.getsignal(signal.SIGINT) is before


def test_a_score_that_cannot_be_is_left_out() -> None:
    """The pass stands, with a note: a thousandfold of the run before is a slip."""
    scores = "import os; f = 'was'; print('total', 5000 if os.path.exists(f) else 5); open(f, 'w')"
    folder = made(text=text(workload=scores) + 'score = "total ([0-9.]+)"\n')
    told("drive", "--agree", "--runs", "2")
    first, second = Study.open(folder).history.runs
    assert (first.score, second.score, second.outcome) == (5, None, "pass")
    assert second.note.startswith("left out: score = 5000")


def test_a_cold_start_is_left_to_a_person(monkeypatch: pytest.MonkeyPatch) -> None:
    """No command can give one; nothing is run."""
    asked = Study.next

    def cold(study: Study, everyday_only: bool = False) -> Proposal:
        proposal = asked(study, everyday_only)
        assert proposal is not None
        return replace(proposal, start_when="from a cold start")

    monkeypatch.setattr(Study, "next", cold)
    folder = made(text=text())
    stopped = planner("drive", "--agree")
    assert stopped.exit_code == 7
    assert "from a cold start" in stopped.stderr
    assert (outcomes(folder), (folder / "restored").exists()) == ([], False)
