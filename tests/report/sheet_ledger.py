"""What a ledger's entries alone say of scores: a second reckoning, of its own making.

It knows nothing of the package but the shape of an entry (docs/ledger-format.md), and expects
that each run names every knob.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import mean, stdev
from typing import Any

from scipy.stats import beta

from planner.domain.event import Event

FAILED = {"crash", "no-start", "errors", "wrong-result", "power-off"}


@dataclass
class Told:
    """One run as its entries leave it."""

    number: int
    facts: dict[str, Any]
    epoch: int
    boot: int
    cold: bool
    amended: int

    @property
    def set(self) -> dict[str, Any]:
        """What was dialled in."""
        return dict(self.facts["settings"])

    @property
    def ran(self) -> dict[str, Any]:
        """What really ran."""
        return self.set | (self.facts.get("actual") or {})

    @property
    def score(self) -> float | None:
        """The score if it may be claimed."""
        claimable = self.facts["outcome"] == "pass" and not self.facts.get("capped")
        return self.facts.get("score") if claimable else None


def told_runs(events: Iterable[Event]) -> list[Told]:
    """The runs of a ledger that count, each with its amendments merged in."""
    events, found = list(events), []
    epoch, boot, cold = 0, 1, False
    for event in events:
        if event.kind == "changed":
            epoch += 1
        if event.kind == "boot":
            boot, cold = boot + 1, event.body["cold"]
        if event.kind != "run":
            continue
        mended = [
            e.body for e in events if e.kind == "amended" and e.body["run"] == event.body["run"]
        ]
        facts = _merged([event.body, *mended])
        if facts["outcome"] == "void":
            continue
        if facts.get("boot"):
            boot, cold = boot + 1, facts["boot"] == "cold"
        found.append(Told(event.body["run"], facts, epoch, boot, cold, len(mended)))
        if facts["outcome"] in ("crash", "no-start", "power-off"):
            boot, cold = boot + 1, facts["outcome"] != "crash"
    return found


def best(runs: Iterable[Told], ceilings: Mapping[str, float]) -> dict[tuple[str, bool], Told]:
    """By workload and by whether anything lay above its everyday ceiling: the highest score."""
    found: dict[tuple[str, bool], Told] = {}
    for run in runs:
        if run.score is None:
            continue
        settings = (run.ran, run.set)
        risky = any(s[name] > top for s in settings for name, top in ceilings.items())
        place = (run.facts["workload"], risky)
        if place not in found or run.score > (found[place].score or 0):
            found[place] = run
    return found


def evidence(runs: Iterable[Told], claimed: Told, confidence: float) -> dict[str, Any]:
    """How often exactly its setting held, between told changes."""
    here = _alike(runs, claimed)
    length = claimed.facts["run_minutes"]
    counted = [r for r in here if r.facts["outcome"] in FAILED or r.facts["run_minutes"] >= length]
    held = [r for r in counted if r.facts["outcome"] not in FAILED]
    failures = len(counted) - len(held)
    return {
        "passes": len(held),
        "runs": len(counted),
        "cold_boots": len({r.boot for r in held if r.cold}),
        "lower_bound": float(beta.ppf(1 - confidence, len(held), failures + 1)),
        "confidence": confidence,
        "least_minutes": length,
    }


def repeats(runs: Iterable[Told], claimed: Told) -> dict[str, Any] | None:
    """How the claimable scores at exactly its setting differ."""
    scores = [r.score for r in _alike(runs, claimed) if r.score is not None]
    if len(scores) < 2:
        return None
    return {
        "count": len(scores),
        "lowest": min(scores),
        "highest": max(scores),
        "mean": mean(scores),
        "deviation": stdev(scores),
    }


def _alike(runs: Iterable[Told], claimed: Told) -> list[Told]:
    workload = claimed.facts["workload"]
    return [
        run
        for run in runs
        if (run.ran, run.set.keys(), run.epoch) == (claimed.ran, claimed.set.keys(), claimed.epoch)
        and run.facts["workload"] == workload
    ]


def _merged(bodies: list[Mapping[str, Any]]) -> dict[str, Any]:
    facts: dict[str, Any] = {}
    for body in bodies:
        for name, value in body.items():
            partial = name in ("settings", "actual") and value is not None
            facts[name] = {**(facts.get(name) or {}), **value} if partial else value
    return facts
