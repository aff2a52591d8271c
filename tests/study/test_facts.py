"""What can be told of a run, and what is refused: fact, value and expectation are named."""

from typing import Any

import pytest

from planner import Study
from planner.domain.outcome import Capped
from planner.errors import RecordError
from tests.domain.makers import tables
from tests.study.makers import bench_tables


@pytest.fixture
def study() -> Study:
    """A study with readings hot and room, sub-scores shade and pack, groups core and memory."""
    workload = {"name": "tide", "minutes": 5, "subscores": ["shade", "pack"]}
    return Study.create(bench_tables() | {"workload": [workload]})


def test_all_that_can_be_told_is_kept(study: Study) -> None:
    """With units where they are numbers."""
    run = study.record(
        "errors",
        settings={"clock": 4500},
        errors=3,
        failed_after_s="2 s",
        run_minutes="4 min",
        minutes=9.5,
        subscores={"shade": 2.75},
        readings={"hot": "91.5 C", "fan": 1200},
        symptom="lines on the screen",
        suspect="memory",
        note="window open, 19 °C outside",
        boot="cold",
    )
    assert (run.errors, run.failed_after_s, run.run_minutes, run.minutes) == (3, 2.0, 4.0, 9.5)
    assert (run.subscores, run.readings) == ({"shade": 2.75}, {"hot": 91.5, "fan": 1200.0})
    assert (run.symptom, run.suspect, run.cold) == ("lines on the screen", "memory", True)
    assert run.note == "window open, 19 °C outside"
    assert study.history.runs == (run,)


def test_whole_clocks_have_no_halves(study: Study) -> None:
    """A slip where a knob counts whole clocks; a clock in MHz may lie between its steps."""
    with pytest.raises(RecordError, match=r"timing = '36.5': expected whole clocks"):
        study.record("pass", settings={"timing": "36.5"})
    with pytest.raises(RecordError, match=r"timing = 36.5: expected whole clocks"):
        study.record("pass", settings={"timing": 40}, actual={"timing": 36.5})
    assert not study.history.runs
    assert study.record("pass", settings={"clock": 4312.5}).ran["clock"] == 4312.5


@pytest.mark.parametrize(
    ("outcome", "facts", "said"),
    [
        ("fail", {}, "outcome = 'fail': expected one of pass, crash, no-start, errors"),
        ("PASS", {}, "outcome = 'PASS'"),
        (None, {}, "outcome = None"),
        (True, {}, "outcome = True"),
        ("stopped", {}, "outcome stopped: expected run_minutes"),
        ("errors", {}, "outcome errors: expected their count"),
        ("errors", {"errors": 0}, "outcome errors: expected their count"),
        ("errors", {"errors": 2.5}, "errors = 2.5: expected a whole number"),
        ("errors", {"errors": -1}, "errors = -1: expected a whole number"),
        ("errors", {"errors": True}, "errors = True: expected a number"),
        ("errors", {"errors": "many"}, "errors = 'many': expected a number"),
        ("pass", {"errors": 2}, "errors = 2: a pass has none"),
        ("pass", {"failed_after_s": 5}, "failed_after_s = 5: a pass has not failed"),
        ("crash", {"failed_after_s": -1}, "failed_after_s = -1: expected seconds"),
        ("crash", {"failed_after_s": 1000}, "failed_after_s = 1000: expected at most"),
        ("crash", {"failed_after_s": "2 V"}, "unit 'V' does not match, expected s"),
        ("crash", {"score": 900}, "score = 900: a crash has no score"),
        ("no-start", {"score": 900}, "score = 900: a no-start has no score"),
        ("pass", {"score": -1}, "score = -1: expected a score from 0"),
        ("pass", {"score": float("nan")}, "score = nan: expected a finite number"),
        ("pass", {"score": float("inf")}, "score = inf: expected a finite number"),
        ("pass", {"score": 1e12}, "score = 1e+12: expected a score from 0 to under 1e+12"),
        ("pass", {"score": "9,5"}, "score = '9,5'"),
        ("pass", {"score": True}, "score = True: expected a number"),
        ("pass", {"minutes": -1}, "minutes = -1: expected 0 to 10080 minutes"),
        ("pass", {"minutes": 20_000}, "minutes = 20000: expected 0 to 10080 minutes"),
        ("pass", {"run_minutes": 0}, "run_minutes = 0: expected how long it ran"),
        ("pass", {"capped": "wind"}, "capped = 'wind': expected one of power, heat, current"),
        ("pass", {"boot": "hot"}, "boot = 'hot': expected cold or warm"),
        ("pass", {"suspect": "gpu"}, "suspect = 'gpu': expected a knob or group: clock, volts"),
        ("pass", {"symptom": "x" * 81}, "at most 80 printable"),
        ("pass", {"note": "a\x1b[31mb"}, "printable"),
        ("pass", {"note": 5}, "note = 5"),
        ("pass", {"readings": {"hott": 90}}, "'hott' is not in the study, did you mean 'hot'?"),
        ("pass", {"readings": {"romm": 22}}, "'romm' is not in the study, did you mean 'room'?"),
        ("pass", {"readings": {"hot": "90V"}}, "readings: hot = '90V'"),
        ("pass", {"readings": {"hot": True}}, "readings: hot = True: expected a number"),
        ("pass", {"readings": {"hot spot": 90}}, "'hot spot': expected a name"),
        ("pass", {"readings": [90]}, "readings = [90]: expected numbers by name"),
        ("pass", {"subscores": {"shad": 2}}, "'shad' is not in the study, did you mean 'shade'?"),
        ("pass", {"subscores": {"shade": -2}}, "subscores: shade = -2: expected a score from 0"),
    ],
)
def test_what_cannot_be_told_is_refused(
    study: Study, outcome: Any, facts: dict[str, Any], said: str
) -> None:
    """The message says what was wrong; nothing is written, and the proposal stays pending."""
    asked, head = study.next(), study.head
    with pytest.raises(RecordError) as caught:
        study.record(outcome, **facts)
    assert said in str(caught.value)
    assert (study.head, study.pending) == (head, asked)


def test_stopped_with_its_minutes_is_taken(study: Study) -> None:
    """It held so long, then the person stopped it."""
    asked = study.next()
    run = study.record("stopped", run_minutes="3 min")
    assert (run.number, run.run_minutes, run.best_score) == (asked.number, 3.0, None)


@pytest.mark.parametrize("fact", ["failed_after", "scores", "outcom"])
def test_a_fact_that_there_is_not_is_refused(study: Study, fact: str) -> None:
    """A slip in a fact's name is the person's mistake, and named as one."""
    study.record("pass", settings={})
    with pytest.raises(RecordError, match=fact):
        study.record("crash", settings={}, **{fact: 5})


def test_a_fact_that_there_is_not_cannot_be_taken_back(study: Study) -> None:
    """Nothing unknown gets into the ledger."""
    study.record("pass", settings={})
    with pytest.raises(RecordError, match="scores"):
        study.amend(1, scores=None)


def test_every_subscore_of_the_study_can_be_told() -> None:
    """Whatever name the definition took."""
    workload = {"name": "tide", "subscores": ["deep water"]}
    study = Study.create(tables(workload=[workload]))
    told = study.record("pass", settings={}, subscores={"deep water": 5})
    assert told.subscores == {"deep water": 5.0}


@pytest.mark.parametrize("capped", Capped)
def test_a_capped_pass_holds_but_is_never_a_best(study: Study, capped: Capped) -> None:
    """Evidence like any other pass; its score is kept and not claimed."""
    free = Study.create(bench_tables())
    run = study.record("pass", settings={"clock": 4500}, score=1000, capped=capped.value)
    plain = free.record("pass", settings={"clock": 4500}, score=1000)
    assert (run.score, run.capped, run.best_score) == (1000.0, capped, None)
    assert (plain.capped, plain.best_score) == (None, 1000.0)
    assert study.edges()["clock"].runs == free.edges()["clock"].runs == 1
    assert study.next().settings == free.next().settings


@pytest.mark.parametrize("outcome", ["errors", "wrong-result"])
def test_a_failed_runs_score_is_no_best(study: Study, outcome: str) -> None:
    """It may be told, and is never claimed."""
    run = study.record(outcome, settings={}, score=1000, errors=1 if outcome == "errors" else None)
    assert (run.score, run.best_score) == (1000.0, None)


def test_a_score_out_of_all_proportion_is_refused(study: Study) -> None:
    """A hundred times off the middle of the earlier ones: a slip, or another scale."""
    for score in (1000, 1100, 900):
        study.record("pass", settings={}, score=score)
    for slip in (100_001, 9.9):
        with pytest.raises(RecordError, match="earlier runs of tide scored about 1000"):
            study.record("pass", settings={}, score=slip)
    assert study.record("pass", settings={}, score=99_000).best_score == 99_000


def test_a_slip_can_be_amended_although_it_stands_alone(study: Study) -> None:
    """A run's own score does not vouch for itself."""
    study.record("pass", settings={}, score=5)
    assert study.amend(1, score=5000).score == 5000


def test_names_of_readings_are_free(study: Study) -> None:
    """The study need not know them; only what looks like a slip is refused."""
    run = study.record("pass", settings={}, readings={"wall_power": 412, "coolant": 23.5})
    assert run.readings == {"wall_power": 412.0, "coolant": 23.5}


@pytest.mark.parametrize(
    ("what", "groups", "said"),
    [
        ("", [], "expected what was changed"),
        (" ", [], "expected what was changed"),
        ("a\x1b[2J", [], "expected what was changed"),
        ("x" * 201, [], "expected what was changed"),
        ("remounted", ["gpu"], "group 'gpu': expected one of core, memory"),
    ],
)
def test_changes_are_told_in_words(study: Study, what: str, groups: list[str], said: str) -> None:
    """In a few words, of groups that there are."""
    head = study.head
    with pytest.raises(RecordError, match=said):
        study.changed(what, groups)
    assert study.head == head
    study.changed("remounted", ["memory"])
    assert study.history.changes[0].groups == ("memory",)
