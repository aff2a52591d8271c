"""Studies that are driven by short programs of this Python, for the tests of `planner drive`."""

import json
import sys
from pathlib import Path

from planner.study import Study

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
HANG = "import threading; threading.Event().wait()"


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
