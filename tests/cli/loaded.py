"""Which modules a command loads, in a process of its own."""

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def loaded_by(arguments: Sequence[str]) -> set[str]:
    """The modules loaded once the command has run; it must succeed."""
    code = (
        "import sys\nfrom planner.cli.app import app\n"
        f"try:\n    app({list(arguments)!r})\nfinally:\n    print(*sys.modules, file=sys.stderr)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
        capture_output=True,
        check=True,
        text=True,
    )
    return set(ran.stderr.split())
