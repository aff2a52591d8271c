"""What shifts a whole group's edges: found again where the truth is known."""

from typing import Any

import numpy as np
import pytest
from scipy import stats

from planner import Study
from planner.history import History
from planner.models.joint.columns import columns_of
from planner.models.joint.evidence import evidence_of, speaking
from planner.models.joint.layout import layout_of
from planner.models.joint.likelihood import STRAY, Terms, Verdicts
from planner.models.joint.posterior import JointPosterior, joint_posterior
from planner.models.joint.shifts import boots_of
from tests.models.joint.bench import small

STOCK = {"clock": 4200.0, "volts": 1.1, "gap": 34.0}


def tables(**extra: Any) -> dict[str, Any]:
    """The small study with a second workload and a choice in the core's group."""
    found = small()
    found["workload"] += [{"name": "other", "minutes": 10, **extra}]
    mode = {"name": "mode", "group": "core", "harder": "choice", "choices": ["a", "b", "c"]}
    found["knob"].append({**mode, "stock": "a", "where": "live"})
    return found


def ran(study: Study, outcome: str, clock: float, **facts: Any) -> None:
    """One run at a clock."""
    mode = facts.pop("mode", "a")
    settings = {**STOCK, "clock": clock, "mode": mode}
    study.record(outcome, settings=settings, minutes=12, run_minutes=10, **facts)


def edge(history: History, mode: str = "a") -> float:
    """Middle of the clock's edge, in MHz."""
    posterior: JointPosterior = joint_posterior(history)
    place = posterior.layout.names.index("clock")
    return float(np.median(posterior.edge_values(place, {**STOCK, "mode": mode}, np.log(0.5))))


def test_another_workload_that_crashes_where_ours_passes_leaves_ours_its_edge() -> None:
    """Ours holds to 4600 MHz and fails at 4650; the other fails from 4450 on."""
    alone, both, mixed = (Study.create(tables()) for _ in range(3))
    for study in (alone, both, mixed):
        for clock in (4400.0, 4500.0, 4600.0, 4600.0):
            ran(study, "pass", clock)
        ran(study, "crash", 4650.0, failed_after_s=200)
    for study, name in ((both, "other"), (mixed, "loop")):
        for clock in (4450.0, 4500.0, 4550.0):
            ran(study, "crash", clock, workload=name, failed_after_s=200)
        ran(study, "pass", 4400.0, workload=name)
    found = {name: edge(s.history) for name, s in (("alone", alone), ("both", both))}
    assert found["both"] == pytest.approx(found["alone"], abs=30)
    chances = [
        joint_posterior(s.history).chances([{**STOCK, "clock": 4550.0, "mode": "a"}]).mean()
        for s in (alone, both, mixed)
    ]
    assert chances[1] == pytest.approx(chances[0], abs=0.08)
    assert chances[2] < chances[0] - 0.15


def test_what_workloads_share_is_learnt_from_either() -> None:
    """Runs of the other workload alone tell roughly where ours will fail."""
    none, some = Study.create(tables()), Study.create(tables())
    for clock in (4300.0, 4350.0):
        ran(some, "pass", clock, workload="other")
    for clock in (4400.0, 4400.0, 4450.0):
        ran(some, "crash", clock, workload="other", failed_after_s=100)
    prior, told = edge(none.history), edge(some.history)
    assert abs(told - 4375) < abs(prior - 4375)
    assert told < prior - 50


@pytest.mark.parametrize(("other", "way"), [("b", 1), ("c", -1)])
def test_choices_have_offsets_in_no_order(other: str, way: int) -> None:
    """One choice holds further than stock's and the next less far, whatever their order."""
    study = Study.create(tables())
    holds = {"a": 4500.0, "b": 4700.0, "c": 4350.0}
    for mode, top in holds.items():
        for clock in (top - 50, top, top):
            ran(study, "pass", clock, mode=mode)
        for clock in (top + 50, top + 75):
            ran(study, "crash", clock, mode=mode, failed_after_s=200)
    moved = edge(study.history, other) - edge(study.history)
    assert way * moved > 60
    assert edge(study.history, other) == pytest.approx(holds[other] + 25, abs=60)


def test_boots_that_differ_are_told_from_runs_that_differ() -> None:
    """Runs that agree within each boot and differ between boots widen the boots' spread."""
    firmware = small()
    for knob in firmware["knob"]:
        knob["where"] = "firmware"

    def boot_spread(by_boot: bool) -> float:
        study = Study.create(firmware)
        for boot in range(8):
            study.boot(cold=True)
            for run in range(4):
                bad = (boot if by_boot else run) % 2 == 1
                setting = {**STOCK, "gap": 24.0}
                facts: dict[str, Any] = {"errors": 5} if bad else {}
                study.record("errors" if bad else "pass", settings=setting, minutes=12, **facts)
        particles = joint_posterior(study.history).particles
        place = next(g for g, p in enumerate(particles.groups) if 1 in p.shared.risks)
        return float(np.median(particles.groups[place].boot_spread(particles.draws.groups[place])))

    assert boot_spread(by_boot=True) > 1.5 * boot_spread(by_boot=False)


def test_a_changed_value_of_the_firmware_is_a_boot() -> None:
    """It takes a restart; a live value takes none."""
    firmware = small()
    firmware["knob"][2]["where"] = "firmware"
    for made, expected in ((small(), (1, 1, 1)), (firmware, (1, 2, 2))):
        study = Study.create(made)
        for setting in (STOCK, {**STOCK, "gap": 30.0}, {**STOCK, "gap": 30.0, "clock": 4300.0}):
            study.record("pass", settings=setting, minutes=12)
        assert boots_of(study.history.definition, study.history.evidence) == expected


@pytest.mark.parametrize("mean", [0.2, 1.0, 4.0, 15.0])
def test_counted_errors_are_thinned_poisson_counts(mean: float) -> None:
    """Against sums over scipy's Poisson law, each error seen with chance 1/2 or 1/10."""
    study = Study.create(small())
    for errors in (1, 5, 40):
        study.record("errors", settings=STOCK, minutes=12, errors=errors)
    history = study.history
    evidence = evidence_of(history, layout_of(history.definition))
    columns = columns_of(evidence)
    shares = columns.exposure
    held = (-mean * shares - STRAY * shares)[None, :]
    logs = Verdicts(columns).logs(Terms(held.astype(np.float32), None))[0]
    counts = np.arange(1, 400)
    law = stats.poisson.pmf(counts, mean)
    unseen = {q: float(law @ (1 - q) ** counts) for q in (0.5, 0.1)}
    none = float(np.exp(-mean))
    expected = {
        1: unseen[0.5],
        5: unseen[0.1] - unseen[0.5],
        40: 1 - none - unseen[0.1],
    }
    found = {
        evidence.runs[i].errors: float(np.exp(v)) for i, v in zip(columns.rows, logs, strict=True)
    }
    assert found == pytest.approx(expected, rel=2e-3)


def test_a_wrong_result_says_less_than_a_crash() -> None:
    """Programs err too: it lowers the edge, and by less."""
    found = {}
    for outcome in ("pass", "wrong-result", "crash"):
        study = Study.create(tables())
        for clock in (4400.0, 4500.0):
            ran(study, "pass", clock)
        for _ in range(2):
            ran(study, outcome, 4600.0)
        assert len(speaking(study.history)) == 4
        found[outcome] = edge(study.history)
    assert found["crash"] < found["wrong-result"] < found["pass"]
