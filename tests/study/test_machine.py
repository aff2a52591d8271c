"""What the machine holds: changes, restarts and what they cost, by the definition's figures."""

from typing import Any

import pytest

from planner import Study
from tests.study.makers import bench_tables

# Of the makers' study: 0.3 min a changed value (0.5 the timing), 4 min a restart, runs of 5 min;
# the clock is live, voltage and timing are firmware.
SET = {"clock": 4500, "volts": 1.25, "timing": 40}
STOCK = {"clock": 4200.0, "volts": 1.2, "timing": 44.0}


def after(outcome: str, **facts: Any) -> Study:
    """A study after one run at `SET`."""
    study = Study.create(bench_tables())
    study.record(outcome, settings=SET, **facts)
    return study


@pytest.mark.parametrize(
    ("outcome", "machine"),
    [
        ("pass", SET),
        ("wrong-result", SET),
        ("crash", SET | {"clock": 4200}),
        ("power-off", SET | {"clock": 4200}),
        ("no-start", STOCK),
        ("void", STOCK),
    ],
)
def test_what_it_holds_after_a_run(outcome: str, machine: dict[str, float]) -> None:
    """Live knobs are lost when it restarts; after a failure to start all is at stock."""
    assert after(outcome).history.machine == machine


def test_a_boot_loses_what_was_set_live() -> None:
    """Told by hand; the next run of one's own begins from there."""
    study = after("pass")
    study.boot(cold=True)
    assert study.history.machine == SET | {"clock": 4200}
    assert study.record("pass", settings={}).settings == SET | {"clock": 4200}


def test_what_is_put_back_is_what_was_set_live() -> None:
    """As drive tells after its restore: no boot, no run, and firmware knobs stay."""
    study = after("pass")
    boot = study.history.boot
    study.restored()
    assert study.history.machine == SET | {"clock": 4200}
    assert (study.history.boot, len(study.history.runs)) == (boot, 1)


def test_a_boot_told_with_a_run_is_a_boot() -> None:
    """Whether it is told by itself or as a fact of the run after it."""
    apart, together = after("pass"), after("pass")
    apart.boot(cold=True)
    assert together.record("pass", settings={"timing": 41}, boot="cold").settings == (
        apart.record("pass", settings={"timing": 41}).settings
    )


@pytest.mark.parametrize(
    ("outcome", "boot", "cold"),
    [
        ("pass", 1, False),
        ("crash", 2, False),
        ("power-off", 2, True),
        ("no-start", 2, True),
        ("void", 1, False),
    ],
)
def test_runs_of_one_boot_are_a_cluster(outcome: str, boot: int, cold: bool) -> None:
    """A restart begins a new one; after power was off it is a cold one."""
    study = after(outcome)
    run = study.record("pass", settings=STOCK)
    assert (study.history.runs[0].boot, run.boot, run.cold) == (1, boot, cold)
    told = study.record("pass", settings=STOCK, boot="cold")
    assert (told.boot, told.cold) == (boot + 1, True)
    assert (study.record("pass", settings=STOCK).boot, study.history.boot) == (boot + 1, boot + 1)


@pytest.mark.parametrize(
    ("outcome", "facts", "minutes"),
    [
        ("pass", {}, 0.3 + 0.3 + 0.5 + 4 + 5),
        ("stopped", {"run_minutes": 2}, 0.3 + 0.3 + 0.5 + 4 + 2),
        ("crash", {}, 0.3 + 0.3 + 0.5 + 4 + 5 + 4),
        ("crash", {"failed_after_s": 90}, 0.3 + 0.3 + 0.5 + 4 + 1.5 + 4),
        ("no-start", {}, 0.3 + 0.3 + 0.5 + 4 + 4 * 4),
        ("errors", {"errors": 2, "failed_after_s": "60 s"}, 0.3 + 0.3 + 0.5 + 4 + 1),
        ("pass", {"minutes": 42}, 42),
        ("pass", {"minutes": 0}, 0),
    ],
)
def test_minutes_are_estimated_where_they_are_not_told(
    outcome: str, facts: dict[str, Any], minutes: float
) -> None:
    """Dialling in, a restart into the firmware, the run, the recovery."""
    study = after(outcome, **facts)
    assert study.history.runs[0].minutes == pytest.approx(minutes)
    assert study.history.minutes_spent == pytest.approx(minutes)


def test_dialling_counts_what_changes_only() -> None:
    """Live alone: no restart. After a crash the machine restarts anyway. Nothing: nothing."""
    study = Study.create(bench_tables())
    told = [
        study.record("pass", settings={"clock": 4500}),
        study.record("crash", settings={"clock": 4600}, failed_after_s=60),
        study.record("pass", settings={"timing": 40}),
        study.record("pass", settings={}),
    ]
    expected = [0.3 + 5, 0.3 + 1 + 4, 0.5 + 5, 5]
    assert [run.minutes for run in told] == pytest.approx(expected)


def test_a_groups_own_restart_replaces_the_rigs() -> None:
    """Memory trains in it, 2.5 minutes here; of several restarts the longest counts."""
    tables = bench_tables() | {
        "group": [{"name": "core"}, {"name": "memory", "restart_minutes": 2.5}]
    }
    study = Study.create(tables)
    assert study.record("pass", settings={"timing": 40}).minutes == pytest.approx(0.5 + 2.5 + 5)
    both = study.record("pass", settings={"timing": 41, "volts": 1.21})
    assert both.minutes == pytest.approx(0.5 + 0.3 + 4 + 5)


def test_a_proposal_shows_the_way_back_from_stock() -> None:
    """After a failure to start everything that is not at stock is dialled in anew."""
    study = Study.create(bench_tables())
    asked = study.next()
    study.record("no-start")
    study.amend(asked.number, settings={"volts": 1.25})
    assert study.history.machine == STOCK
    (change,) = study.next().changes
    assert (change.knob, change.before) == ("clock", 4200.0)
