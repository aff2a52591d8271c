"""Every strategy under the judge's eye, over random definitions and random recorded histories.

A new strategy joins by its line in `STRATEGIES`.
"""

from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.strategies import STRATEGIES
from tests.strategies.judge import Tables, Told, ceilings, forbidden, tops
from tests.strategies.random_studies import (
    can_have_run,
    planner_tables,
    random_setting,
    random_tables,
)

ENOUGH = 2000
"""Proposals of each strategy to judge."""
OUTCOMES = ["pass", "pass", "pass", "crash", "crash", "no-start", "errors", "wrong-result", "void"]


def tell(rng: np.random.Generator, study: Study, told: Told, **settings: Any) -> None:
    """Record any outcome, sometimes too hot, in both books."""
    outcome = str(rng.choice(OUTCOMES))
    facts: dict[str, Any] = {"errors": 3} if outcome == "errors" else {}
    hot = rng.random() < 0.05
    run = study.record(outcome, **facts, readings={"hot": 91 if hot else 60}, **settings)
    if outcome == "pass":
        told.no_starts = [s for s in told.no_starts if s != run.ran]
    if outcome == "no-start":
        told.no_starts.append(run.ran)
    if hot and outcome != "void":
        told.too_hot.append(run.ran)


def accept(rng: np.random.Generator, study: Study, tables: Tables, told: Told) -> None:
    """Half of the risks that can be accepted are, up to anywhere."""
    for noun in [*tables["knob"], *tables["derived"]]:
        given = ceilings(noun)
        if {"everyday", "own_risk"} <= given.keys() and rng.random() < 0.5:
            up_to = round(float(rng.uniform(noun["everyday"], noun["own_risk"])), 4)
            if noun["everyday"] < up_to <= noun["own_risk"] and noun["name"] != "c":
                study.accept_risk(noun["name"], up_to)
                told.accepted[noun["name"]] = up_to


def judged_evening(rng: np.random.Generator, strategy: str) -> int:
    """One random study: how many proposals were judged, each of them permitted and on the grid."""
    tables, told = random_tables(rng), Told()
    confidence = {"confidence": 0.8} if rng.random() < 0.3 else {}
    study = Study.create(
        planner_tables(tables, strategy=strategy, seed=int(rng.integers(99)), **confidence)
    )
    accept(rng, study, tables, told)
    highest = tops(tables, told)
    for judged in range(16):
        proposal = study.next()
        if proposal is None:
            return judged
        assert forbidden(tables, told, highest, proposal.settings) == [], (tables, told, proposal)
        tell(rng, study, told)
        setting = random_setting(rng, tables)
        if rng.random() < 0.25 and can_have_run(tables, setting):
            tell(rng, study, told, settings=setting)
        if rng.random() < 0.03:
            study.changed("remounted")
            told.no_starts, told.too_hot = [], []
    return 16


@pytest.mark.slow
@pytest.mark.parametrize("strategy", STRATEGIES)
def test_no_strategy_proposes_what_is_forbidden(strategy: str) -> None:
    """2,000 proposals, every one permitted by the judge."""
    rng, judged = np.random.default_rng(20260102), 0
    while judged < ENOUGH:
        judged += judged_evening(rng, strategy)
