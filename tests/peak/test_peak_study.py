"""Peak attempts through the study: what may be proposed, what is stated, when it closes."""

import pytest

from planner import Study
from planner.domain.dialling import dial_minutes
from planner.errors import RecordError
from planner.models.joint.response import response_of
from planner.peak.search import peak_search
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.rig import EveningRig
from tests.peak.evenings import played

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def evening() -> tuple[Study, EveningRig]:
    """One hour on a rig."""
    return played(1, 60)


def test_a_safe_score_is_banked_first(evening: tuple[Study, EveningRig]) -> None:
    """The first run is at stock."""
    study, rig = evening
    assert study.history.runs[0].settings == rig.stock


def test_an_hour_gains(evening: tuple[Study, EveningRig]) -> None:
    """The best score claimed beats stock's by far more than the noise."""
    study, rig = evening
    scores = [run.score for run in study.history.runs if run.score is not None]
    assert max(scores) > scores[0] * (1 + 10 * rig.bench.score_noise)


def test_many_knobs_move_at_once(evening: tuple[Study, EveningRig]) -> None:
    """That is the point."""
    study, rig = evening
    moved = [sum(r.settings[n] != v for n, v in rig.stock.items()) for r in study.history.runs]
    assert max(moved) >= 5


@pytest.mark.parametrize("seed", [206, 208])
def test_no_slow_setting_is_run_because_it_is_sure_to_hold(seed: int) -> None:
    """Once some runs tell of the score, none has less than 0.85 of the best gain so far."""
    study, rig = played(seed, 100)
    best = 0.0
    for run in study.history.runs:
        gain = rig.log_gain(run.settings)
        assert run.number <= 4 or gain > 0.85 * best, run.number
        best = max(best, gain) if run.outcome.held else best


def test_the_same_runs_give_the_same_proposal(evening: tuple[Study, EveningRig]) -> None:
    """A study that is told the same runs anew proposes the same, word for word."""
    study, rig = evening
    again = Study.create(rig.definition)
    for run in study.history.runs:
        facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
        facts |= {"minutes": run.minutes, "failed_after_s": run.failed_after_s}
        again.record(run.outcome.value, settings=run.settings, **facts)
    study.reopen()
    again.reopen()
    one, other = study.next(), again.next()
    assert one is not None
    assert other is not None
    assert (one.settings, one.reason) == (other.settings, other.reason)


def test_the_recommendation_is_as_likely_as_asked(evening: tuple[Study, EveningRig]) -> None:
    """By its own word, and within its interval."""
    best = evening[0].recommendation()
    assert best.holds
    assert best.pass_probability >= 0.9
    assert best.interval[0] <= best.pass_probability <= best.interval[1]


def test_edges_are_stated_for_what_can_fail(evening: tuple[Study, EveningRig]) -> None:
    """Supports have none; the true edge of most lies within."""
    study, rig = evening
    edges = study.edges()
    assert set(edges) == {name for name, knob in rig.knobs.items() if not knob.supports}
    for edge in edges.values():
        assert edge.interval[0] < edge.value < edge.interval[1]


def test_blame_is_shared_among_causes(evening: tuple[Study, EveningRig]) -> None:
    """Shares of every failed run add up to one; a run that passed has none."""
    study, _ = evening
    failed = [run.number for run in study.history.runs if run.outcome.failed]
    assert failed
    for number in failed:
        blame = study.blame(number)
        assert sum(blame.shares.values()) == pytest.approx(1)
        assert sum(blame.groups.values()) == pytest.approx(1)
    with pytest.raises(RecordError, match="expected one that failed"):
        study.blame(1)
    with pytest.raises(RecordError, match="there is none"):
        study.blame(999)


def test_a_knob_that_alone_moved_takes_the_blame() -> None:
    """Those that never moved, and have held, gain next to none."""
    rig = evening_rig(2)
    study = Study.create(rig.definition)
    for _ in range(3):
        study.record("pass", settings=rig.stock, minutes=5, score=100.0)
    fast = {**rig.stock, "core_clock": 5600.0}
    study.record("crash", settings=fast, minutes=6, failed_after_s=20)
    blame = study.blame(4)
    assert blame.shares["core_clock"] > 0.9


def test_a_suspicion_weighs_on_the_blame() -> None:
    """Of two knobs alike in all else the suspected group's is the likelier cause."""
    rig = evening_rig(2)
    both = {**rig.stock, "core_clock": 5300.0, "graphics_clock": 2740.0}
    shares = {}
    for suspect in ("core", "graphics", None):
        study = Study.create(rig.definition)
        study.record("pass", settings=rig.stock, minutes=5, score=100.0)
        study.record("crash", settings=both, minutes=6, failed_after_s=60, suspect=suspect)
        shares[suspect] = study.blame(2).groups["core"]
    assert shares["core"] > shares[None] > shares["graphics"]


def test_dialling_is_counted_as_it_is() -> None:
    """Row by row as the domain counts it."""
    rig = evening_rig(4)
    study = Study.create(rig.definition)
    study.record("pass", settings=rig.stock, minutes=5, score=100.0)
    search = peak_search(study.history)
    moved = {**rig.stock, "core_clock": 5000.0, "graphics_clock": 2590.0}
    rows = search.space.rows([rig.stock, moved])
    found = search.space.dial_minutes(rows, rig.stock, restarting=False)
    definition = study.history.definition
    assert found == pytest.approx(
        [dial_minutes(definition, rig.stock, s) for s in (rig.stock, moved)]
    )


@pytest.mark.parametrize(
    ("minutes", "reason"),
    [(1000, "gains have flattened: 30 more minutes"), (30, "minutes spent: ")],
)
def test_it_closes_when_gains_have_flattened_or_minutes_are_spent(
    minutes: float, reason: str
) -> None:
    """With its figures; a bench of two knobs is soon done."""
    study, _ = played(6, 1e9, ("graphics_clock", "graphics_memory"), minutes=minutes)
    assert study.next() is None
    assert study.history.verdict.startswith(reason)


def test_a_dear_crash_makes_it_careful() -> None:
    """Where crashes of every group have a price, the next run is likelier to hold."""
    rig = evening_rig(4)
    asked = []
    for price in (0, 60):
        tables = rig.definition
        for group in tables["group"]:
            group["crash_price"] = price
        study = Study.create(tables)
        study.record("pass", settings=rig.stock, score=200.0)
        proposal = study.next()
        assert proposal is not None
        asked.append(proposal.pass_probability)
    assert asked[1] > asked[0]


def test_what_knobs_give_covers_the_truth(evening: tuple[Study, EveningRig]) -> None:
    """Against the rig's noise-free score: at least seven of nine 90 % intervals hold it."""
    study, rig = evening
    response = response_of(study.history)
    assert response is not None
    keep = study.recommendation().settings
    right = 0
    for knob in rig.knobs.values():
        at = [{**keep, knob.name: value} for value in (knob.stock, knob.values[-1])]
        rows = response.coordinates(at)
        mean, sd = response.rise(rows[1:], rows[:1])
        missed = rig.log_gain(at[1]) - rig.log_gain(at[0]) - mean[0]
        right += abs(missed) <= 1.645 * sd[0]
    assert right >= 7


def powered(*told: tuple[float, float]) -> Study:
    """Clock and power target, some of the latter run at stock clock, with their scores."""
    clock = {"name": "offset", "low": 0, "high": 300, "step": 15, "stock": 0, "unit": "MHz"}
    power = {"name": "power", "low": 80, "high": 110, "step": 5, "stock": 100, "everyday": 100}
    knobs = [
        {**knob, "group": "graphics", "harder": "up", "where": "live"} for knob in (clock, power)
    ]
    load = {"name": "load", "minutes": 10, "scored": True}
    study = Study.create({"study": {"aim": "peak"}, "knob": knobs, "workload": [load]})
    for at, score in told:
        study.record("pass", settings={"power": at}, score=score)
    return study


def test_a_knob_is_not_eased_in_the_hope_of_a_score() -> None:
    """One score at stock says nothing for less power: that more is faster is what is usual."""
    proposal = powered((100, 1000)).next()
    assert proposal is not None
    assert proposal.settings["power"] == 100
    assert proposal.settings["offset"] > 0


def test_a_knob_is_eased_where_runs_tell_that_less_scores_more() -> None:
    """As where heat takes more than power gives."""
    proposal = powered((100, 1000), (95, 1020), (90, 1040)).next()
    assert proposal is not None
    assert proposal.settings["power"] < 95
