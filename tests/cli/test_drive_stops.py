"""`planner drive` with real processes: what ends it, and what the person's wish does."""

import signal
from dataclasses import replace

import pytest

from planner.domain.parse import parse_text
from planner.domain.run import Proposal
from planner.driving.wish import Wish, heeding
from planner.report.text.drive import progress_line
from planner.study import Study
from tests.cli.drives import HANG, outcomes, restored, text
from tests.cli.typed import made, planner, told

INTERRUPTS = "import os; os.kill(os.getppid(), {number}); {then}"


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


def test_an_interrupt_finishes_the_run() -> None:
    """Ctrl-C once: the run is recorded as it ended, the values are restored, nothing follows."""
    folder = made(text=text(workload=INTERRUPTS.format(number=2, then="pass")))
    ended = told("drive", "--agree")
    assert (outcomes(folder), restored(folder)) == (["pass"], ["4200"])
    assert ended.stderr.endswith("Back at stock.\n")


def test_an_interrupt_is_shown_to_have_been_heard() -> None:
    """In the one line that is seen while a run goes on, before what a narrow screen cuts off."""
    definition = parse_text(text())
    heard = progress_line(83.0, {}, definition, True, 80)
    assert heard == "1:23 left, ends after this run (Ctrl-C again: at once)"
    assert progress_line(83.0, {}, definition, False, 80) == "1:23 left"


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
