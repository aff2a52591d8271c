"""A little of the long run that breaks study files and ledgers; it can fail."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
RUN = ROOT / "studies" / "evidence" / "fuzz" / "run.py"


def fuzzed(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=RUN.parent,
        env=os.environ | {"PYTHONPATH": f"{ROOT}{os.pathsep}{RUN.parent}"},
        text=True,
        capture_output=True,
    )


@pytest.mark.skipif(os.name == "nt", reason="it bounds each case by an alarm of POSIX")
def test_broken_studies_are_refused_not_met_with_a_traceback() -> None:
    """Three hundred cases of a seed that the long run does not use."""
    played = fuzzed(
        "import sys, run; sys.argv = ['run', '--cases', '300', '--seed', '2']; run.main()"
    )
    assert played.returncode == 0, played.stdout + played.stderr
    assert "300 cases, 0 faults" in played.stdout


@pytest.mark.skipif(os.name == "nt", reason="it bounds each case by an alarm of POSIX")
def test_a_traceback_would_be_counted() -> None:
    """With a reader that breaks on everything, every definition is a fault."""
    code = "import sys, run; run.parse_text = lambda text: 1 / 0; run.SHARES = {'definition': 1}\n"
    played = fuzzed(code + "sys.argv = ['run', '--cases', '5']; run.main()")
    assert played.returncode == 1
    assert "5 cases, 5 faults" in played.stdout
    assert "ZeroDivisionError" in played.stdout
