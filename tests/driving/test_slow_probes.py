"""Probes and heartbeats that take their time do not hold up the end of a run."""

import os
import select
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.domain.outcome import Outcome
from tests.driving.benches import HANG, SETTING, bench, python, run

LONGEST = 600
"""The longest time that a probe or a heartbeat may be given, in s."""
UNTIL_TOLD = "open('end').read()"
"""A workload that ends when somebody has opened the pipe."""
SLOW = f"""
import os
child = os.fork()
if not child:
    {HANG}
open('child', 'w').write(str(child))
open('end', 'wb').close()
{HANG}
"""
"""Starts a child, lets the workload end, and hangs."""


@pytest.fixture(autouse=True)
def _pipe(tmp_path: Path) -> Iterator[None]:
    """The pipe, and an end to a test that waits for what hangs."""

    def waited(*_: object) -> None:
        raise AssertionError("the run waited for a command that hangs")

    os.mkfifo(tmp_path / "end")
    before = signal.signal(signal.SIGALRM, waited)
    signal.alarm(LONGEST // 10)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def ends(folder: Path) -> bool:
    """Whether the child that the command left comes to its end: a kill takes its time to arrive."""
    try:
        watched = os.pidfd_open(int((folder / "child").read_text(encoding="ascii")))
    except ProcessLookupError:
        return True
    try:
        return bool(select.select([watched], [], [], LONGEST // 20)[0])
    finally:
        os.close(watched)


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc to see processes")
@pytest.mark.parametrize("slow", ["probe", "heartbeat"])
def test_the_end_of_the_workload_is_seen_while_another_hangs(tmp_path: Path, slow: str) -> None:
    """It is a pass, and what hangs is ended with its child."""
    given = {slow: python(SLOW), f"{slow}_seconds": LONGEST}
    result = run(tmp_path, workload=python(UNTIL_TOLD), **given)
    assert (result.outcome, result.blind, result.down) == (Outcome.PASS, "", False)
    assert ends(tmp_path)


def test_the_time_limit_holds_while_a_probe_hangs(tmp_path: Path) -> None:
    """A crash after 0.3 s, not a lost probe after ten minutes."""
    short = {"minutes": 0.003, "grace_minutes": 0.002}
    probe = {"probe": python(HANG), "probe_seconds": LONGEST}
    result = run(tmp_path, workload=python(HANG), **probe, **short)
    assert (result.outcome, result.blind) == (Outcome.CRASH, "")
    assert result.facts["symptom"] == "no end within 0.005 min"


def test_signs_of_life_are_given_while_a_probe_hangs(tmp_path: Path) -> None:
    """What is written down of how far the run has come does not wait for it."""
    probe = {"probe": python(HANG), "probe_seconds": LONGEST}
    slow, told = bench(tmp_path, workload=python(UNTIL_TOLD), **probe), []

    def tell(seconds: float) -> None:
        told.append(seconds)
        if len(told) == 3:
            (tmp_path / "end").open("wb").close()

    slow.alive = tell
    assert slow.run(SETTING, 1.0).outcome is Outcome.PASS
    assert told == sorted(told)
