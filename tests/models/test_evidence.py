"""What each kind of run is taken to say of one knob, and what it is not taken to say."""

from collections import Counter
from typing import Any

import pytest

from planner import Study
from planner.models.edge import edge_posterior
from planner.models.evidence import FADED, Observation, observations
from tests.models.bench import CLOCK, definition, studied

TIMING = {"name": "delay", "low": 10, "high": 20, "step": 1, "stock": 20, "harder": "down"}
SLOT = {"name": "slot", "choices": ["a", "b"], "stock": "a", "harder": "choice"}


def seen(study: Study, **others: Any) -> Counter[Observation]:
    """What the study's runs say of the clock, the others as given or else at stock."""
    history = study.history
    base = {**history.definition.stock, **others}
    return observations(history, history.definition.knobs["clock"], base)


def one(outcome: str, *, workload: dict[str, Any] | None = None, **facts: Any) -> list[Observation]:
    """What a single run at 7 says."""
    study = Study.create(definition(workload=workload))
    study.record(outcome, settings={"clock": 7}, **facts)
    return list(seen(study).elements())


@pytest.mark.parametrize(
    ("outcome", "facts", "said"),
    [
        ("pass", {}, Observation(7, 1.0, None)),
        ("pass", {"run_minutes": 20}, Observation(7, 4.0, None)),
        ("pass", {"capped": "power"}, Observation(7, 1.0, None)),
        ("stopped", {"run_minutes": 2.5}, Observation(7, 0.5, None)),
        ("crash", {}, Observation(7, 0.0, 1.0)),
        ("wrong-result", {}, Observation(7, 0.0, 1.0)),
        ("power-off", {}, Observation(7, 0.0, 1.0)),
        ("crash", {"failed_after_s": 1}, Observation(7, 0.0, 0.03)),
        ("crash", {"failed_after_s": 60}, Observation(7, 0.03, 0.3)),
        ("crash", {"failed_after_s": 299}, Observation(7, 0.3, 1.0)),
        ("crash", {"run_minutes": 10}, Observation(7, 0.0, 2.0, 2.0)),
        ("no-start", {}, Observation(7, 0.0, 0.03)),
        ("errors", {"errors": 1}, Observation(7, 1.0, 1.0, errors=1)),
        ("errors", {"errors": 9}, Observation(7, 1.0, 1.0, errors=2)),
        ("errors", {"errors": 4000}, Observation(7, 1.0, 1.0, errors=10)),
    ],
)
def test_what_an_outcome_says(outcome: str, facts: dict[str, Any], said: Observation) -> None:
    """Times are shares of the nominal 5 minutes; times to failure and counts are told coarsely."""
    assert one(outcome, **facts) == [said]


def test_what_says_nothing() -> None:
    """A void run; a pass that ended before heat had settled; another workload than the study's,
    unless the machine did not even start for it."""
    assert one("void") == []
    assert one("pass", run_minutes=3, workload={"settle_minutes": 4}) == []
    tables = definition()
    tables["workload"].append({"name": "other", "minutes": 60})
    study = Study.create(tables)
    study.record("pass", settings={"clock": 9}, workload="other")
    study.record("no-start", settings={"clock": 15}, workload="other")
    assert list(seen(study)) == [Observation(15, 0.0, 0.03)]


def test_what_ran_counts() -> None:
    """Firmware that falls back in silence makes no pass where it was set."""
    study = Study.create(definition())
    study.record("pass", settings={"clock": 12}, actual={"clock": 6.5})
    assert list(seen(study)) == [Observation(6.5, 1.0, None)]


def test_hardness_counts_towards_failure() -> None:
    """A timing of 13 in 10 to 20 is seven steps past the easiest one."""
    study = Study.create(definition(TIMING))
    study.record("crash", settings={"delay": 13})
    history = study.history
    knob = history.definition.knobs["delay"]
    assert list(observations(history, knob, history.definition.stock)) == [Observation(7, 0.0, 1.0)]


@pytest.mark.parametrize(
    ("outcome", "delay", "counts"),
    [("pass", 17, True), ("crash", 17, False), ("pass", 19, False), ("crash", 19, True)],
)
def test_beside_other_values_only_the_stronger_half_counts(
    outcome: str, delay: int, counts: bool
) -> None:
    """With the delay wanted at 18: what held beside a harder one, or failed beside an easier one,
    says at least as much; the converse might be the delay's doing."""
    study = Study.create(definition(TIMING))
    study.record(outcome, settings={"clock": 9, "delay": delay})
    assert bool(seen(study, delay=18)) == counts


def test_beside_another_choice_nothing_counts() -> None:
    """Choices are unordered, so neither is the stronger half."""
    study = Study.create(definition(SLOT))
    study.record("pass", settings={"clock": 9, "slot": "b"})
    assert not seen(study)
    assert seen(study, slot="b")


def test_a_told_change_fades_older_runs() -> None:
    """Of its groups only, and not the runs after it."""
    core = {**CLOCK, "group": "core"}
    study = Study.create({**definition(), "knob": [core, {**TIMING, "group": "memory"}]})
    study.record("pass", settings={"clock": 7})
    study.changed("new modules", ["memory"])
    assert list(seen(study)) == [Observation(7, 1.0, None)]
    study.changed("new firmware")
    study.record("pass", settings={"clock": 7})
    assert seen(study) == Counter(
        [Observation(7, 1.0, None, weight=FADED), Observation(7, 1.0, None)]
    )


def test_a_mended_run_is_as_one_recorded_right() -> None:
    """Whatever was recorded first, the posterior is the same to the last bit."""
    mended = studied("7+ 9+ 12+ 13-")
    mended.amend(3, outcome="crash", failed_after_s=1)
    mended.amend(1, outcome="void")
    right = studied("9+")
    right.record("crash", settings={"clock": 12}, failed_after_s=1)
    right.record("crash", settings={"clock": 13})
    one, other = (
        edge_posterior(s.history, s.history.definition.knobs["clock"], s.history.definition.stock)
        for s in (mended, right)
    )
    assert (one.weights == other.weights).all()
