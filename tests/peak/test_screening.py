"""Short screens of one group before a whole run."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.domain.knob import Setting
from planner.domain.run import Proposal
from planner.peak.choosing import picked
from planner.peak.plan import peak_plan
from planner.peak.screening import screen_for
from planner.rigs.evening.draw import evening_rig
from tests.models.joint.bench import small

pytestmark = pytest.mark.slow
STOCK = {"clock": 4200.0, "volts": 1.1, "gap": 34.0}


def tables(minutes: float = 60.0, screen: float = 2.0, **study: Any) -> dict[str, Any]:
    """A long scored run, and a short one of each group."""
    found = small(**study)
    found["workload"][0]["minutes"] = minutes
    for group in ("memory", "core"):
        found["workload"].append({"name": f"{group} quick", "minutes": screen, "screens": [group]})
    return found


def begun(definition: dict[str, Any]) -> Study:
    """Stock has scored."""
    study = Study.create(definition)
    study.record("pass", settings=STOCK, score=100)
    return study


def asked(study: Study, **terms: Any) -> Proposal:
    """What to run next."""
    study.reopen()
    proposal = study.next(**terms)
    assert proposal is not None
    return proposal


def test_a_screen_saves_minutes_on_the_way_to_the_answer() -> None:
    """It is named with what it saves, and asked for by its own minutes."""
    study = begun(tables())
    proposal = asked(study)
    plan = peak_plan(study.history)
    screen, best = plan.screen, plan.best
    assert screen is not None
    assert best is not None
    assert (proposal.workload, proposal.run_minutes) == (screen.workload.name, 2.0)
    assert screen.saved >= 0.25 * screen.workload.minutes
    assert screen.kept >= 0.85
    assert proposal.minutes < best.minutes
    assert proposal.reason.startswith(f"a 2 min screen of {screen.workload.screens[0]} first")


def test_after_a_passed_screen_the_whole_run_follows() -> None:
    """At the same setting, with no group screened twice there."""
    study = begun(tables())
    screened = []
    while (proposal := asked(study)).workload != "loop":
        screened.append((proposal.workload, tuple(proposal.settings.items())))
        study.record("pass", number=proposal.number)
    assert screened
    assert len(set(screened)) == len(screened)
    assert {setting for _, setting in screened} == {tuple(proposal.settings.items())}


def test_a_failed_screen_is_blamed_on_its_group() -> None:
    """More than by a whole run that failed at the same setting, where either may have failed it."""
    both, shares = {**STOCK, "clock": 4500.0, "gap": 24.0}, {}
    for workload in ("loop", "memory quick", "core quick"):
        study = begun(tables())
        crash = study.record("crash", settings=both, workload=workload, failed_after_s=40.0)
        shares[workload] = study.blame(crash.number).groups
    for group in ("memory", "core"):
        assert 0.2 < shares["loop"][group] < 0.8
        assert shares[f"{group} quick"][group] > shares["loop"][group] + 0.05


def test_a_passed_screen_counts_until_a_told_change() -> None:
    """No second one of its group at its setting before; after it, another machine stands there."""
    found = tables(boldness=1.0)
    found["workload"] = found["workload"][:2]
    study = begun(found)
    proposal = asked(study, only=["memory"])
    study.record("pass", number=proposal.number)
    assert offered(study, proposal.settings) == []
    study.changed("other modules", groups=["memory", "core"])
    assert offered(study, proposal.settings) == [proposal.workload] == ["memory quick"]


def offered(study: Study, setting: Setting) -> list[str]:
    """The screen that pays most at a setting, if one does."""
    search = peak_plan(study.history).search
    screen = screen_for(search, picked(search, search.space.rows([setting])[0]))
    return [] if screen is None else [screen.workload.name]


@pytest.mark.parametrize(
    "definition",
    [
        tables(minutes=10, screen=9),  # what it saves is less than it takes
        tables(minutes=10, screen=10),  # not shorter
        tables(minutes=3, screen=2.5),
    ],
)
def test_a_screen_that_is_hardly_shorter_never_comes_first(definition: dict[str, Any]) -> None:
    """It costs more than it saves."""
    for boldness in (0.0, 0.5, 1.0):
        definition["study"]["boldness"] = boldness
        assert asked(begun(definition)).workload == "loop"


def test_a_workload_that_names_no_group_is_no_screen() -> None:
    """However short."""
    found = tables()
    for workload in found["workload"][1:]:
        del workload["screens"]
    assert asked(begun(found)).workload == "loop"


@pytest.mark.parametrize(
    ("words", "driven"), [(["./load"], False), (["./load", "{workload}"], True)]
)
def test_only_a_driven_command_that_is_told_runs_screens(words: list[str], driven: bool) -> None:
    """One that is not told which workload it is would run the whole one."""
    found = tables()
    found["drive"] = {"apply": ["./set"], "workload": words, "restore": ["./set", "stock"]}
    assert (asked(begun(found)).workload != "loop") == driven


def test_one_group_alone_may_be_turned() -> None:
    """A screen keeps to the terms that were asked for."""
    proposal = asked(begun(tables(boldness=1.0)), only=["memory"])
    assert proposal.workload == "memory quick"
    assert {n for n, v in proposal.settings.items() if v != STOCK[n]} == {"gap"}


def evening(seed: int, screens: bool) -> tuple[float, int]:
    """Log gain of the best score, and how many screens were run; a score takes 20 minutes."""
    rig = evening_rig(seed)
    rig.bench = replace(rig.bench, run_minutes=20.0, screen_minutes=2.0, in_turn=True)
    definition = rig.definition
    definition["knob"] = [
        k for k in definition["knob"] if k["group"] in ("memory", "core", "cache")
    ]
    if not screens:
        del definition["workload"][1:]
    study, best, count = Study.create(definition), 0.0, 0
    while rig.minutes < 150:
        proposal = asked(study)
        group = proposal.workload.removesuffix(" screen") if proposal.workload != "course" else ""
        count += bool(group)
        run = rig.run({**rig.stock, **proposal.settings}, group)
        if run.score is not None:
            best = max(best, rig.log_gain({**rig.stock, **proposal.settings}))
        facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
        study.record(run.outcome, minutes=run.minutes, failed_after_s=run.failed_after_s, **facts)
    return best, count


def test_evenings_with_screens_reach_as_much() -> None:
    """In the mean over benches where memory, cores and cache can fail, and some are screened.

    Within a tenth: what a screen brings is a culprit, not points.
    """
    seeds = (1, 3)
    with_screens, without = ([evening(s, each) for s in seeds] for each in (True, False))
    assert sum(count for _, count in with_screens) > 0
    assert np.mean([g for g, _ in with_screens]) > 0.9 * np.mean([g for g, _ in without])
