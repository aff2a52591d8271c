"""What a person may ask beyond the study's own words: groups, a run to start from, few changes."""

import pytest

from planner import Study
from planner.errors import RecordError
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.rig import EveningRig
from tests.domain.makers import tables
from tests.study.makers import clock

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def evening() -> tuple[Study, EveningRig]:
    """Six runs of a peak attempt."""
    rig = evening_rig(4)
    study = Study.create(rig.definition)
    for _ in range(6):
        proposal = study.next()
        assert proposal is not None
        run = rig.run(proposal.settings)
        facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
        study.record(run.outcome, minutes=run.minutes, failed_after_s=run.failed_after_s, **facts)
    study.reopen()
    return study, rig


def best(study: Study) -> dict[str, object]:
    """The setting that scored most."""
    scored = [r for r in study.history.runs if r.score is not None and r.outcome.held]
    return dict(max(scored, key=lambda r: r.score or 0.0).ran)


def test_only_one_group_is_turned(evening: tuple[Study, EveningRig]) -> None:
    """The other knobs stand as in the best run."""
    study, rig = evening
    proposal = study.next(only=["memory"])
    assert proposal is not None
    before = best(study)
    turned = {n for n, v in proposal.settings.items() if v != before[n]}
    assert turned
    assert turned <= {n for n, k in rig.knobs.items() if k.group == "memory"}


def test_other_terms_ask_anew(evening: tuple[Study, EveningRig]) -> None:
    """The pending proposal is withdrawn; the same terms, or none, give it again."""
    study, _ = evening
    one = study.next(only=["memory"])
    assert study.next(only=["memory"]) == one
    assert study.next() == one
    other = study.next(only=["core", "cache"])
    assert one is not None
    assert other is not None
    assert other.number != one.number


@pytest.mark.parametrize("most", [1, 2, 3])
def test_few_changes(evening: tuple[Study, EveningRig], most: int) -> None:
    """No more values are dialled in than asked for, where any setting is so near."""
    study, _ = evening
    study.record("pass", settings=best(study), score=100.0)  # the machine holds the best
    study.amend(study.history.runs[-1].number, outcome="void")
    proposal = study.next(max_changes=most)
    assert proposal is not None
    assert len(proposal.changes) <= most


def test_a_run_to_start_from(evening: tuple[Study, EveningRig]) -> None:
    """Beside the first run, turning one group, all else stands as in that run."""
    study, rig = evening
    proposal = study.next(only=["graphics"], start=1)
    assert proposal is not None
    first = study.history.by_number[1].ran
    turned = {n for n, v in proposal.settings.items() if v != first[n]}
    assert turned <= {n for n, k in rig.knobs.items() if k.group == "graphics"}


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"only": ["sound"]}, "only 'sound': expected a group or knob"),
        ({"start": 99}, "from run 99: there is none"),
        ({"max_changes": 0}, "max changes 0: expected 1 or more"),
    ],
)
def test_terms_that_cannot_be(
    evening: tuple[Study, EveningRig], asked: dict[str, object], words: str
) -> None:
    """Nothing is written."""
    study, _ = evening
    head = study.head
    with pytest.raises(RecordError, match=words):
        study.next(**asked)
    assert study.head == head


def test_one_knob_has_no_such_terms() -> None:
    """The message names the aims that have."""
    study = Study.create(tables(clock()))
    with pytest.raises(RecordError, match="expected aim peak"):
        study.next(max_changes=2)


def test_a_frozen_knob_stays() -> None:
    """Its range is for the person's own runs."""
    rig = evening_rig(4)
    definition = rig.definition
    for knob in definition["knob"]:
        knob["frozen"] = knob["name"] == "core_clock"
    study = Study.create(definition)
    study.record("pass", settings=rig.stock, score=200.0)
    proposal = study.next()
    assert proposal is not None
    assert proposal.settings["core_clock"] == rig.stock["core_clock"]


def test_alternatives_differ(evening: tuple[Study, EveningRig]) -> None:
    """From the proposal and from each other, and each may be run."""
    study, _ = evening
    proposal = study.next()
    others = study.alternatives(3)
    assert proposal is not None
    found = [proposal.settings, *(other.settings for other in others)]
    assert len(found) == 4
    assert all(one != two for i, one in enumerate(found) for two in found[:i])


def test_forecasts_rise_and_are_ordered(evening: tuple[Study, EveningRig]) -> None:
    """A best score never falls; more time never lowers it."""
    study, _ = evening
    ahead = study.forecast(90)
    for row in (ahead.low, ahead.middle, ahead.high):
        assert list(row) == sorted(row)
        assert row[0] == pytest.approx(ahead.best, abs=4 * ahead.noise)
    assert ahead.low[0] < ahead.best < ahead.high[0]  # a best score is known through noisy runs
    assert all(a <= b <= c for a, b, c in zip(ahead.low, ahead.middle, ahead.high, strict=True))
    assert ahead.worth >= 0
