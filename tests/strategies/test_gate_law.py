"""The gate against the judge: 100,000 settings over random definitions, accepted risks and runs."""

from collections import Counter

import numpy as np
import pytest

from planner import Study
from planner.gate import gate_of
from tests.strategies.judge import Tables, Told, ceilings, forbidden, tops
from tests.strategies.random_studies import (
    can_have_run,
    planner_tables,
    random_setting,
    random_tables,
)

STUDIES, EACH = 250, 400


def tell(rng: np.random.Generator, study: Study, tables: Tables) -> Told:
    """Risks accepted and runs recorded, in both books."""
    told = Told()
    for noun in [*tables["knob"], *tables["derived"]]:
        given, guarded = ceilings(noun), study.history.definition.guarded.get(noun["name"])
        if "own_risk" in given and guarded is not None and rng.random() < 0.6:
            up_to = round(float(rng.uniform(guarded.everyday, guarded.own_risk)), 4)
            if guarded.everyday < up_to <= guarded.own_risk:
                study.accept_risk(noun["name"], up_to)
                told.accepted[noun["name"]] = up_to
    for _ in range(rng.integers(0, 4)):
        setting = random_setting(rng, tables)
        if not can_have_run(tables, setting):
            continue
        if rng.random() < 0.5:
            study.record("no-start", settings=setting)
            told.no_starts.append(setting)
        else:
            study.record("crash", settings=setting, readings={"hot": 90.5})
            told.too_hot.append(setting)
    return told


@pytest.mark.slow
def test_the_gate_permits_what_the_judge_does_and_nothing_else() -> None:
    """Off the grid, over a ceiling, past a stop, against a hard rule, known bad: not one."""
    rng, seen = np.random.default_rng(20260102), Counter()
    for _ in range(STUDIES):
        tables = random_tables(rng)
        study = Study.create(planner_tables(tables))
        told = tell(rng, study, tables)
        gate, highest = gate_of(study.history), tops(tables, told)
        for _ in range(EACH):
            setting = random_setting(rng, tables)
            broken = forbidden(tables, told, highest, setting)
            assert gate.permits(setting) is not bool(broken), (tables, told, setting, broken)
            seen.update({kind.split()[0] for kind in broken} or {"permitted"})
    # Each law was put to the test often enough to be broken.
    assert seen.total() >= STUDIES * EACH
    assert min(seen[kind] for kind in ("permitted", "grid", "ceiling", "rule", "names")) > 500
    assert min(seen["hot"], seen["no-start"]) > 100
