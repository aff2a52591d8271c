"""The scores that may be claimed: the best of each workload, everyday and own-risk ones apart."""

from collections.abc import Collection, Iterable, Sequence
from statistics import fmean, stdev

from planner.domain.knob import Knob
from planner.domain.run import Run
from planner.domain.tables import Derived
from planner.gate import above_everyday
from planner.history import Changed, History
from planner.models.edge import LEVEL
from planner.report.sheet.claimed import Claimed, Conditions, Evidence, Measured, Repeats
from planner.report.sheet.rules import judged_rules
from planner.report.sheet.settings import at_own_risk, lines_of_run, whole_setting
from planner.trade.reliability import lower_bound


def claims_of(history: History, attached: Collection[str] = ()) -> tuple[Claimed, ...]:
    """The best claimable score of each workload and region; the first run that reached it.

    `attached`: names of the files that go with the sheet.
    """
    scored = [run for run in history.evidence if run.best_score is not None]
    regions: dict[tuple[str, bool], list[Run]] = {}
    for run in scored:
        risky = bool(at_own_risk(history, run))
        regions.setdefault((run.workload, risky), []).append(run)
    return tuple(
        _claimed(history, max(regions[place], key=_score), attached)
        for name in _workloads(history, scored)
        for place in ((name, False), (name, True))
        if place in regions
    )


def unclaimed_scores(history: History) -> int:
    """Recorded scores that cannot be claimed."""
    return sum(run.score is not None and run.best_score is None for run in history.runs)


def told_changes(history: History) -> tuple[str, ...]:
    """Told changes of the machine, oldest first, with the groups that they touch."""
    return tuple(_what(change) for change in history.changes)


def _claimed(history: History, run: Run, attached: Collection[str]) -> Claimed:
    alike = _alike(history, run)
    return Claimed(
        run=run.number,
        workload=run.workload,
        score=_score(run),
        subscores=_subscores(history, run),
        at_own_risk=at_own_risk(history, run),
        lines=lines_of_run(history, run),
        conditions=_conditions(history, run),
        evidence=_evidence(history, run, alike),
        repeats=_repeats([_score(r) for r in alike if r.best_score is not None]),
        ceilings_then=_ceilings_then(history, run),
        rules=judged_rules(history, run, attached),
    )


def _alike(history: History, run: Run) -> list[Run]:
    """The runs of its workload at exactly its setting, itself included, between told changes."""
    setting = whole_setting(run)
    return [
        other
        for other in history.evidence
        if other.workload == run.workload
        and other.epoch == run.epoch
        and whole_setting(other) == setting
    ]


def _evidence(history: History, run: Run, alike: Iterable[Run]) -> Evidence:
    counted = [r for r in alike if r.outcome.failed or r.run_minutes >= run.run_minutes]
    passes = [r for r in counted if r.outcome.held]
    sure = history.definition.goal.confidence or LEVEL
    return Evidence(
        passes=len(passes),
        runs=len(counted),
        cold_boots=len({r.boot for r in passes if r.cold}),
        lower_bound=lower_bound(len(passes), len(counted), sure),
        confidence=sure,
        least_minutes=run.run_minutes,
    )


def _repeats(scores: Sequence[float]) -> Repeats | None:
    if len(scores) < 2:
        return None
    return Repeats(len(scores), min(scores), max(scores), fmean(scores), stdev(scores))


def _subscores(history: History, run: Run) -> tuple[tuple[str, float | None], ...]:
    """The parts that the workload names, in its order, then whatever else was recorded."""
    workload = history.definitions[run.definition].workloads.get(run.workload)
    named = [name for name, _ in workload.subscores] if workload else []
    names = dict.fromkeys([*named, *run.subscores])
    return tuple((name, run.subscores.get(name)) for name in names)


def _conditions(history: History, run: Run) -> Conditions:
    then = history.definitions[run.definition]
    workload = then.workloads.get(run.workload)
    told = told_changes(history)
    return Conditions(
        time=run.time,
        bench=run.bench,
        run_minutes=run.run_minutes,
        nominal_minutes=workload.minutes if workload else run.run_minutes,
        boot=_boot(run),
        readings=_readings(history, run),
        asked=run.asked is not None,
        origin=run.origin,
        amended=run.amended,
        note=run.note,
        symptom=run.symptom,
        changes_before=told[: run.epoch],
        changes_since=told[run.epoch :],
    )


def _boot(run: Run) -> str:
    if run.cold:
        return "cold"
    return "warm" if run.boot_told else ""


def _readings(history: History, run: Run) -> tuple[Measured, ...]:
    """The readings that the study names, in its order, then whatever else was recorded."""
    known, today = history.definitions[run.definition].readings, history.definition.readings
    found = []
    for name in dict.fromkeys([*known, *run.readings]):
        noun, value = known.get(name) or today.get(name), run.readings.get(name)
        stop = today[name].stop if name in today else None
        past = stop is not None and value is not None and value > stop
        unit, source = (noun.unit, noun.source) if noun else ("", "")
        found.append(Measured(name, unit, value, source, stop if past else None))
    return tuple(found)


def _ceilings_then(history: History, run: Run) -> tuple[tuple[str, float | None, str], ...]:
    """Everyday ceilings that the run passed when it was made and does not pass today."""
    then, now = history.definitions[run.definition], at_own_risk(history, run)
    nouns: dict[str, Knob | Derived] = {**then.knobs, **then.derived}
    return tuple(
        (name, nouns[name].ceilings.everyday, nouns[name].unit)
        for name in above_everyday(then, whole_setting(run))
        if name not in now
    )


def _what(change: Changed) -> str:
    return f"{change.what} ({', '.join(change.groups)})" if change.groups else change.what


def _workloads(history: History, runs: Iterable[Run]) -> list[str]:
    """Workloads in the study's order, then those that it no longer has."""
    ran = {run.workload for run in runs}
    known = [name for name in history.definition.workloads if name in ran]
    return known + sorted(ran.difference(known))


def _score(run: Run) -> float:
    assert run.score is not None, run.number
    return run.score
