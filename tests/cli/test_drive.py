"""`planner drive` with real processes: what is run and what is recorded."""

import json
from pathlib import Path

from planner.study import Study
from tests.cli.drives import HOLDS, restored, text
from tests.cli.typed import made, planner, told


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
    assert 4200 < max(tried) <= 4600


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


def test_a_score_that_cannot_be_is_left_out() -> None:
    """The pass stands, with a note: a thousandfold of the run before is a slip."""
    scores = "import os; f = 'was'; print('total', 5000 if os.path.exists(f) else 5); open(f, 'w')"
    folder = made(text=text(workload=scores) + 'score = "total ([0-9.]+)"\n')
    told("drive", "--agree", "--runs", "2")
    first, second = Study.open(folder).history.runs
    assert (first.score, second.score, second.outcome) == (5, None, "pass")
    assert second.note.startswith("left out: score = 5000")
