"""Reports to look at, by name: edge, frontier and peak studies, and one that tries to break out."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from planner import Study
from planner.history import History
from planner.report.account.gather import account_of
from planner.report.account.nouns import Account
from planner.report.sheet.gather import search_of, sheet_of
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.rig import EveningRig
from tests.report.pictures import frontier_studies, studies
from tests.report.sheets import EVIL, told

VERSION = "1.2.3"


def of_study(study: Study, history: History | None = None) -> Account:
    """The report of a study; `history`: told in place of its own."""
    history = history or study.history
    aim = history.definition.goal.aim
    best = study.recommendation()
    frontier = study.frontier() if aim == "frontier" else None
    sheet = sheet_of(history, search_of(history, best, None, study.closing(), frontier), study.head)
    failed = [run.number for run in history.evidence if run.outcome.failed and not aim.one_knob]
    blames = {number: study.blame(number).shares for number in failed}
    return account_of(history, sheet, best, study.edges(), blames, study.gap(), VERSION)


@cache
def peak_study() -> Study:
    """Half an hour on a simulated rig, with a change told and a run of the person's own."""
    rig = evening_rig(1)
    study = Study.create(rig.definition)
    _play(study, rig, 32)
    study.changed("new paste", ["core"])
    study.record("crash", settings={"core_clock": 5600.0}, symptom="blank <screen>")
    return study


def holding_study(aim: str) -> Study:
    """A quarter of an hour without scores, a cold boot, and a crash of the person's own."""
    rig = evening_rig(4)
    tables = rig.definition
    tables["study"] |= {"aim": aim}
    tables["workload"] = [{"name": w["name"], "minutes": w["minutes"]} for w in tables["workload"]]
    study = Study.create(tables)
    _play(study, rig, 16, scored=False)
    study.boot(cold=True)
    study.record("crash", settings={"core_voltage": 1.15})
    return study


def _play(study: Study, rig: EveningRig, until: float, scored: bool = True) -> None:
    while rig.minutes < until:
        proposal = study.next()
        assert proposal is not None
        run = rig.run({**rig.stock, **proposal.settings})
        facts: dict[str, Any] = {"readings": run.readings, "minutes": run.minutes}
        facts |= {"score": run.score, "subscores": run.subscores} if scored else {}
        study.record(run.outcome, failed_after_s=run.failed_after_s, **facts)


def hostile() -> Account:
    """What a person may have typed tries to break out of the page."""
    study = told()
    history = study.history
    runs = tuple(
        run._replace(note=EVIL, symptom=EVIL, suspect=EVIL, bench=EVIL, workload=EVIL)
        for run in history.runs
    )
    now = history.definition
    text = f"{now.text}\n# {EVIL}"
    now = replace(now, goal=replace(now.goal, name=EVIL), text=text)
    return of_study(study, replace(history, runs=runs, definitions=(now,)))


ACCOUNTS: Mapping[str, Callable[[], Account]] = {
    "edge": lambda: of_study(told()),
    "nothing run": lambda: of_study(studies.STUDIES["before the first run"]()),
    "many endings": lambda: of_study(studies.STUDIES["an evening"]()),
    "choice": lambda: of_study(studies.STUDIES["choice"]()),
    "frontier": lambda: of_study(frontier_studies.STUDIES["own risk accepted"]()),
    "peak": lambda: of_study(peak_study()),
    "everyday": lambda: of_study(holding_study("everyday")),
    "trim": lambda: of_study(holding_study("trim")),
    "hostile": hostile,
}
_made = cache(lambda name: ACCOUNTS[name]())


def account(name: str) -> Account:
    """One of them, made once."""
    return _made(name)
