"""What a claim takes and how much of it is done, as `close` and `claim` tell it."""

import pytest

from planner.models.plans import hours_for, plans_for
from planner.report.text.confidence import claim_rows, duration
from tests.models.bench import studied


def close_words(runs: str, **study: object) -> dict[str, str]:
    made = studied(runs, **study)
    return dict(claim_rows(made.history.definition, made.recommendation()))


def test_passes_done_and_owed() -> None:
    """22 in a row show nine in ten at 90 % (success run, textbook): 9 done leave 13."""
    said = close_words("12-*3 10+*9", confidence=0.9)
    assert said["Claim"] == (
        "90% of 5 min runs of loop pass, 90% sure: 22 passes in a row, 9 done, 13 owed"
    )


def test_what_nobody_asked_for_is_not_owed() -> None:
    """Without `confidence` the same passes are `more`, not owed."""
    assert close_words("12-*3 10+*9")["Claim"].endswith("9 done, 13 more")


def test_hours_without_a_failure() -> None:
    """Nine 5 min passes are 45 min; over -ln 0.1 that is 19.5 min (NIST 8.4.5.1)."""
    assert close_words("12-*3 10+*9")["Hours"].startswith(
        "45 min there with no failure over 1 boot: at least 20 min between failures, 90% sure"
    )


def test_time_up_to_a_failure_counts() -> None:
    """Twenty passes of 5 min, a crash after 60 s, and one whose time is not told."""
    made = studied("13-*9 10+*30 11+*20", target=0.5)
    made.record("crash", settings={"clock": 11.0}, failed_after_s=60)
    made.record("crash", settings={"clock": 11.0})
    claim = made.recommendation().claim
    assert made.recommendation().settings["clock"] == 11
    assert (claim.hours * 60, claim.failures) == pytest.approx((101, 2))


def test_plans_equal_the_tables() -> None:
    """95/95: 59, 93 and 124 runs with 0, 1 and 2 failures (Wilks; from memory)."""
    claim = studied("10+*9").recommendation().claim
    plans = plans_for(claim, 0.95, 0.95)
    assert (plans.in_a_row, plans.with_failures) == (59, ((1, 93), (2, 124)))
    assert (plans.done, plans.owed) == (9, 50)


@pytest.mark.parametrize(("target", "confidence"), [(0.9, 0.9), (0.9, 0.7), (0.95, 0.95)])
def test_the_sequential_plan_keeps_its_promise(target: float, confidence: float) -> None:
    """What fails as often as the claim excludes is accepted at most with 1 - C, counted exactly."""
    plans = plans_for(studied("10+").recommendation().claim, target, confidence)
    assert plans.run_by_run.wrongly <= 1 - confidence + 1e-9
    assert plans.run_by_run.accepts[0] >= plans.in_a_row


def test_hours_owed() -> None:
    """9.5 h at 90 % take 21.9 h without a failure: 22 h over show it (NIST 8.4.5.1, .4343 T)."""
    claim = studied("10+*9").recommendation().claim
    hours = hours_for(claim, 9.5, 0.9)
    assert hours.needed[0] == pytest.approx(21.87, abs=0.01)
    assert hours.owed == pytest.approx(21.87 - 0.75, abs=0.01)


def test_the_chance_to_come_through() -> None:
    """MIL-HDBK-781A, plan XXI-D (from memory): 1.1 mean times without a failure reject what lasts
    three with 30.7 %, and accept what lasts one with 33.3 %; confidence 66.7 % asks for that."""
    claim = studied("10+*9").recommendation().claim
    hours = hours_for(claim, 10.0, 1 - 0.3329)
    assert hours.needed[0] == pytest.approx(11.0, abs=0.01)
    assert 1 - hours.chances[0] == pytest.approx(0.3070, abs=5e-4)
    assert list(hours.chances) == sorted(hours.chances)


def test_durations() -> None:
    """To what a person needs."""
    said = [duration(h) for h in (0.001, 0.5, 9.54, 21.87, 123.4)]
    assert said == ["under 1 min", "30 min", "9.5 h", "22 h", "123 h"]
