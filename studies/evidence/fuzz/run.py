"""Breaks study files, ledgers and what else is read, and counts what is no clear refusal.

Run from the project's root: `python studies/evidence/fuzz/run.py`.
"""

import argparse
import json
import os
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
import mutate

from planner import Study
from planner.domain.parse import parse_text
from planner.errors import PlannerError
from planner.importing.plan import plan_import
from planner.store import MemoryLedger, Place, open_place, repair, store_settings
from planner.store.lines import EMPTY

SECONDS = 20
"""A case that takes longer counts as a fault."""
DEEPER = 25
"""One in so many of what was accepted is asked for proposals too."""
TEMPLATES = ("core", "graphics", "graphics-memory", "memory", "empty")


class Slow(Exception):
    """A case took too long."""


def _alarm(*_: object) -> None:
    raise Slow


class Fuzz:
    """One process's share of the cases."""

    def __init__(self, seed: int, folder: Path) -> None:
        self.random = Random(seed)
        self.folder = folder
        self.counts: Counter[str] = Counter()
        self.faults: list[str] = []
        here = Path(__file__).parent
        templates = files("planner.cli") / "templates"
        self.texts = [(templates / f"{name}.toml").read_text("utf-8") for name in TEMPLATES]
        self.texts.append((here / "everything.toml").read_text("utf-8"))
        self.bodies = [_bodies(text) for text in self.texts if "[[knob]]" in text]
        self.ledger = b"".join(_sealed(self.bodies[-1]))
        self.study = Study.create(self._written(self.texts[-1]))

    def case(self, kind: str, number: int) -> None:
        """One broken thing; whatever is not a refusal of our own is a fault."""
        signal.alarm(SECONDS)
        try:
            getattr(self, kind)(number)
            self.counts[f"{kind} taken"] += 1
        except PlannerError:
            self.counts[f"{kind} refused"] += 1
        except (Exception, RecursionError):
            self.counts[f"{kind} FAULT"] += 1
            self.faults.append(f"{kind} {number}\n{traceback.format_exc(limit=-6)}")
        finally:
            signal.alarm(0)

    def definition(self, number: int) -> None:
        """A study file."""
        broken = mutate.text(self.random, self.random.choice(self.texts))
        parse_text(broken)
        if self._deeper():
            _use(Study.create(self._written(broken)))

    def entries(self, number: int) -> None:
        """A ledger whose chain is right and whose bodies are broken, as a stranger makes one."""
        bodies = self.random.choice(self.bodies)
        at = self.random.randrange(len(bodies))
        broken = [bodies[at][0], mutate.table(self.random, bodies[at][1])]
        study = Study(Place(MemoryLedger(_sealed([*bodies[:at], broken, *bodies[at + 1 :]])), None))
        study.history  # noqa: B018
        if self._deeper():
            _use(study)

    def damage(self, number: int) -> None:
        """A ledger's file with broken bytes: opened, then repaired and opened again."""
        file = self.folder / "ledger.jsonl"
        for old in self.folder.glob("ledger.*"):
            old.unlink()
        file.write_bytes(mutate.raw(self.random, self.ledger))
        try:
            Study(open_place(self.folder)).history  # noqa: B018
        except PlannerError:
            repair(file)
            Study(open_place(self.folder)).history  # noqa: B018

    def table(self, number: int) -> None:
        """A table of runs to import."""
        rows = "outcome,clock,volts [mV],hot,note,score,boot\npass,4300,1200,70,a,10,1\n"
        rows += 'crash,4.8GHz,1250,,"b,c",,2\nvoid,4500,,,,,\n'
        raw = mutate.text(self.random, rows).encode("utf-8", "surrogatepass")
        if self.random.random() < 0.5:
            raw = mutate.raw(self.random, raw)
        plan_import(self.study.history, raw, "runs.csv")

    def store(self, number: int) -> None:
        """A store.toml."""
        text = "store = 'postgresql://bench@host:5432/studies?sslmode=require#box'\n"
        file = self.folder / "other" / "store.toml"
        file.parent.mkdir(exist_ok=True)
        broken = mutate.text(self.random, text).encode("utf-8", "surrogatepass")
        file.write_bytes(broken if number % 2 else mutate.raw(self.random, broken))
        store_settings(file.parent)

    def _deeper(self) -> bool:
        deeper = self.random.randrange(DEEPER) == 0
        self.counts["(of these asked for proposals)"] += deeper
        return deeper

    def _written(self, text: str) -> Path:
        file = self.folder / "made.toml"
        file.write_text(text, encoding="utf-8", errors="surrogatepass", newline="\n")
        return file


def _use(study: Study) -> None:
    """What a person would do next."""
    study.next()
    study.recommendation()
    study.closing()
    if study.pending is not None:
        study.record("crash")
        study.next()
    study.edges()


def _bodies(text: str) -> list[Any]:
    """What a study's entries hold, of every kind: (kind, body)."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "s.toml"
        file.write_text(text, encoding="utf-8")
        study = Study.create(file)
    study.record("pass", settings={}, note="as it is")
    for outcome in ("pass", "crash", "void"):
        if study.next() is not None:
            study.record(outcome)
    study.amend(1, note="mended")
    study.changed("remounted")
    study.boot(cold=True)
    if (pending := study.next()) is not None:
        study.withdraw(pending.number, "not now")
    study.close("late")
    study.reopen()
    study.next()
    return [[e.kind.value, dict(e.body)] for e in study._place.ledger.read()]


def _sealed(entries: list[Any]) -> list[bytes]:
    """Ledger lines that hold these, whatever they are, chained by the published rule."""
    lines, prev = [], EMPTY.chain
    for seq, (kind, body) in enumerate(entries, 1):
        told = json.dumps(body, separators=(",", ":"), sort_keys=False)
        start = (
            f'{{"format":1,"seq":{seq},"time":"2026-01-02T20:30:00Z","bench":"left","id":"e{seq}",'
            f'"kind":"{kind}","body":{told},"prev":"{prev}"'
        ).encode("utf-8", "surrogatepass")
        prev = sha256(start).hexdigest()
        lines.append(start + f',"chain":"{prev}"}}\n'.encode())
    return lines


SHARES = {"definition": 0.4, "entries": 0.3, "damage": 0.15, "table": 0.1, "store": 0.05}


def main() -> None:
    """Play the cases and print the counts."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--cases", type=int, default=120_000)
    arguments.add_argument("--seed", type=int, default=1)
    given = arguments.parse_args()
    signal.signal(signal.SIGALRM, _alarm)
    os.environ["PLANNER_BENCH"] = "left"
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        fuzz = Fuzz(given.seed, Path(folder))
        for kind, share in SHARES.items():
            for number in range(round(given.cases * share)):
                fuzz.case(kind, number)
    for name, count in sorted(fuzz.counts.items()):
        print(f"{count:8} {name}")
    cases = sum(round(given.cases * share) for share in SHARES.values())
    print(f"{cases} cases, {len(fuzz.faults)} faults, {time.perf_counter() - begun:.0f} s")
    for fault in fuzz.faults[:20]:
        print(f"\n{fault}")
    sys.exit(bool(fuzz.faults))


if __name__ == "__main__":
    main()
