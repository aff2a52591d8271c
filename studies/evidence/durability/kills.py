"""kill -9 at random moments of ask-and-record cycles: is anything confirmed lost or doubled?

Two benches share each study; the clock of each child runs backwards, and every other study has a
mirror.
"""

import os
import random
import signal
import sys
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

import planner.journal
import planner.searching  # a child is killed too soon to load it
from planner import Study
from planner.domain.event import Kind

STUDY = {
    "study": {"name": "box", "knob": "clock", "strategy": "bisection"},
    "knob": [{"name": "clock", "low": 4000, "high": 5000, "step": 25, "stock": 4200}],
}
KILLS_A_STUDY = 50
BENCHES = ("left", "right")
LONGEST_S = 0.25
"""A child lives at most so long."""


@dataclass
class Tally:
    """What was seen."""

    kills: int = 0
    confirmed: int = 0
    """Entries that a child had confirmed."""
    lost: int = 0
    doubled: int = 0
    refused: int = 0
    """Openings that failed."""
    mirrors_differ: int = 0
    longest_wait_s: float = 0.0
    """For the first entry after a kill, the study's opening included."""


@dataclass
class Child:
    """A process that asks and records for ever."""

    pid: int
    pipe: int


def kill_often(folder: Path, kills: int, seed: int) -> Tally:
    """Kill so many children, each in the midst of asking and recording."""
    draw, tally = random.Random(seed), Tally()
    study, mirror = folder, None
    told: list[tuple[str, int]] = []
    while tally.kills < kills:
        if tally.kills % KILLS_A_STUDY == 0:
            study, told = folder / f"study-{tally.kills}", []
            Study.create(STUDY, study)
            mirrored = tally.kills // KILLS_A_STUDY % 2 == 1
            mirror = folder / f"mirror-{tally.kills}.jsonl" if mirrored else None
        children = [_started(study, mirror, bench) for bench in BENCHES]
        for child in children:
            fresh = _killed(child, draw.uniform(0.0, LONGEST_S))
            told += fresh
            tally.kills += 1
            tally.confirmed += len(fresh)
        _check(study, mirror, told, tally)
    return tally


def _started(study: Path, mirror: Path | None, bench: str) -> Child:
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(reading)
        try:
            _cycle(study, mirror, bench, writing)
        finally:
            os._exit(1)
    os.close(writing)
    return Child(pid, reading)


def _killed(child: Child, after_s: float) -> list[tuple[str, int]]:
    """What the child had confirmed when it was killed."""
    time.sleep(after_s)
    os.kill(child.pid, signal.SIGKILL)
    os.waitpid(child.pid, 0)
    with os.fdopen(child.pipe, "rb") as pipe:
        lines = pipe.read().decode().split("\n")[:-1]  # a confirmation that was cut is none
    return [(word, int(number)) for word, number in (line.split() for line in lines)]


def _cycle(study: Path, mirror: Path | None, bench: str, writing: int) -> None:
    """Ask and record for ever; tell each number once it is confirmed."""
    os.environ["PLANNER_BENCH"] = bench
    back, draw = count(), random.Random(os.getpid())
    began = datetime.now(UTC)
    planner.journal.utc_now = lambda: (began - timedelta(hours=next(back))).isoformat()
    opened = Study.open(study, mirror)
    while True:
        proposal = opened.next()
        if proposal is None:
            opened.reopen()
            opened.record(draw.choice(["pass", "crash"]), settings={})
            continue
        os.write(writing, b"asked %d\n" % proposal.number)
        opened.record(draw.choice(["pass", "crash"]), number=proposal.number)
        os.write(writing, b"told %d\n" % proposal.number)


def _check(study: Path, mirror: Path | None, told: list[tuple[str, int]], tally: Tally) -> None:
    """Every confirmed entry stands once, and the study takes a further entry at once."""
    begun = time.monotonic()
    try:
        opened = Study.open(study, mirror)
        opened.reopen()
    except Exception as error:
        print(f"refused: {error}", file=sys.stderr)
        tally.refused += 1
        return
    tally.longest_wait_s = max(tally.longest_wait_s, time.monotonic() - begun)
    ledger = study / "ledger.jsonl"
    tally.mirrors_differ += mirror is not None and mirror.read_bytes() != ledger.read_bytes()
    events = opened._place.ledger.read()
    asked = [e.body["run"] for e in events if e.kind is Kind.PROPOSED]
    runs = [e.body["run"] for e in events if e.kind is Kind.RUN]
    confirmed_asked = {n for word, n in told if word == "asked"}
    confirmed_runs = {n for word, n in told if word == "told"}
    tally.lost += len(confirmed_asked - set(asked)) + len(confirmed_runs - set(runs))
    tally.doubled += len(asked) - len(set(asked)) + len(runs) - len(set(runs))
