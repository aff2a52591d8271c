"""kill -9 at random moments of ask-and-record cycles: is anything confirmed lost or doubled?"""

import os
import random
import signal
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import planner.searching  # noqa: F401  # a child is killed too soon to load it
from planner import Study
from planner.domain.event import Kind

STUDY = {
    "study": {"name": "box", "knob": "clock", "strategy": "bisection"},
    "knob": [{"name": "clock", "low": 4000, "high": 5000, "step": 25, "stock": 4200}],
}
KILLS_A_STUDY = 50
LONGEST_S = 0.1
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
    longest_wait_s: float = 0.0


def kill_often(folder: Path, kills: int, seed: int) -> Tally:
    """Kill so many children, each in the midst of asking and recording."""
    draw, tally, study = random.Random(seed), Tally(), folder
    told: list[tuple[str, int]] = []
    for number in range(kills):
        if number % KILLS_A_STUDY == 0:
            study, told = folder / f"study-{number}", []
            Study.create(STUDY, study)
        fresh = _killed(study, draw.uniform(0.0, LONGEST_S))
        told += fresh
        tally.kills += 1
        tally.confirmed += len(fresh)
        _check(study, told, tally)
    return tally


def _killed(study: Path, after_s: float) -> list[tuple[str, int]]:
    """What a child had confirmed when it was killed."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            _cycle(study, writing)
        finally:
            os._exit(1)
    os.close(writing)
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(reading, "rb") as pipe:
        lines = pipe.read().decode().split("\n")[:-1]  # a confirmation that was cut is none
    return [(word, int(number)) for word, number in (line.split() for line in lines)]


def _cycle(study: Path, writing: int) -> None:
    """Ask and record for ever; tell each number once it is confirmed."""
    opened, draw = Study.open(study), random.Random(os.getpid())
    while True:
        proposal = opened.next()
        if proposal is None:
            opened.reopen()
            opened.record(draw.choice(["pass", "crash"]), settings={})
            continue
        os.write(writing, b"asked %d\n" % proposal.number)
        opened.record(draw.choice(["pass", "crash"]), number=proposal.number)
        os.write(writing, b"told %d\n" % proposal.number)


def _check(study: Path, told: list[tuple[str, int]], tally: Tally) -> None:
    """Every confirmed entry stands once, and the study opens at once."""
    begun = time.monotonic()
    try:
        opened = Study.open(study)
        events = opened._place.ledger.read()
        if opened.pending is None and not opened.history.closed:
            opened.close("seen")
            opened.reopen()
    except Exception as error:
        print(f"refused: {error}", file=sys.stderr)
        tally.refused += 1
        return
    tally.longest_wait_s = max(tally.longest_wait_s, time.monotonic() - begun)
    asked = [e.body["run"] for e in events if e.kind is Kind.PROPOSED]
    runs = [e.body["run"] for e in events if e.kind is Kind.RUN]
    confirmed_asked = {n for word, n in told if word == "asked"}
    confirmed_runs = {n for word, n in told if word == "told"}
    tally.lost += len(confirmed_asked - set(asked)) + len(confirmed_runs - set(runs))
    tally.doubled += len(asked) - len(set(asked)) + len(runs) - len(set(runs))
