"""Runs as Optuna's trials and back; Optuna itself is the judge of what it was given."""

import math
import sqlite3
from pathlib import Path

import optuna
import pytest
from optuna.samplers import TPESampler
from optuna.trial import TrialState

from planner import Study
from planner.domain.knob import Knob
from planner.errors import InputError
from planner.exchange.reading import table_of
from planner.exchange.storage import read_trials, write_trials
from planner.exchange.writing import trials_of
from planner.importing.plan import plan_import
from planner.importing.recording import record_planned
from planner.report.tables.csv_text import csv_text
from planner.report.tables.runs import run_table
from tests.domain.makers import clock, mode, tables
from tests.importing.test_round_trip import ANEW
from tests.study.makers import bench_tables

ENDINGS = (".db", ".sqlite3", ".journal", ".log")
pytestmark = pytest.mark.filterwarnings("ignore::optuna.exceptions.ExperimentalWarning")


def told() -> Study:
    """Every kind of outcome, what ran otherwise than set, texts, readings, own and asked runs."""
    study = Study.create(bench_tables(aim="peak"))
    study.record("pass", settings={}, score=1000, readings={"hot": 71.5}, note='=1; \u00e9, "q"')
    study.record("crash", settings={"clock": 4900, "volts": 1.3}, failed_after_s=85)
    study.record("pass", settings={"clock": 4600}, actual={"clock": 4570}, score=1090)
    study.record("pass", settings={"clock": 4700}, score=1200, capped="heat")
    study.record("no-start", settings={"timing": 33})
    study.record("errors", settings={"timing": 36}, errors=3)
    study.record("stopped", settings={"clock": 4650}, run_minutes=2)
    study.record("void", settings={"clock": 4500})
    study.next()
    study.record("pass", score=1100)
    return study


def loaded(file: Path) -> optuna.Study:
    """The storage as a user of Optuna opens it."""
    if file.suffix in (".db", ".sqlite3"):
        return optuna.load_study(study_name=None, storage=f"sqlite:///{file}")
    backend = optuna.storages.journal.JournalFileBackend(str(file))
    return optuna.load_study(study_name=None, storage=optuna.storages.JournalStorage(backend))


def taken(study: Study, file: Path) -> int:
    """How many runs an import of the storage records."""
    raw = csv_text(table_of(*read_trials(file))).encode()
    return len(list(record_planned(study, plan_import(study.history, raw, str(file)))))


def kept(study: Study) -> list[dict[str, str]]:
    table = run_table(study.history)
    rows = [dict(zip(table.headings, row, strict=True)) for row in table.rows]
    return [{name: cell for name, cell in row.items() if name not in ANEW} for row in rows]


@pytest.mark.parametrize("ending", ENDINGS)
def test_there_and_back_nothing_is_lost(tmp_path: Path, ending: str) -> None:
    """Every cell of the run table but those told anew; a second import takes nothing."""
    first, second = told(), Study.create(bench_tables(aim="peak"))
    file = tmp_path / f"runs{ending}"
    write_trials(file, "box", trials_of(first.history))
    before = file.read_bytes()
    assert taken(second, file) == len(first.history.runs)
    assert kept(second) == kept(first)
    assert taken(second, file) == 0
    assert taken(first, file) == 0
    assert file.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == [file.name]


def test_optuna_sees_crashes_as_violated_constraints(tmp_path: Path) -> None:
    """Its best trial is the best claimable score; what is no evidence is passed over."""
    file = tmp_path / "runs.journal"
    write_trials(file, "box", trials_of(told().history))
    study = loaded(file)
    assert study.best_trial.value == 1100
    states = [trial.state for trial in study.trials]
    assert [state is TrialState.COMPLETE for state in states] == [
        *[True, True, True],
        False,  # capped: its score counts for nothing
        *[True, True],
        *[False, False],  # stopped, void
        True,
    ]
    violated = [any(v > 0 for v in trial.constraints.values()) for trial in study.trials]
    assert violated == [False, True, False, False, True, True, False, False, False]
    study.sampler = TPESampler(seed=1, n_startup_trials=1)
    asked = study.ask(study.trials[0].distributions)
    assert 4000 <= asked.params["clock"] <= 5000


def test_of_an_edge_the_hardest_that_held_is_best(tmp_path: Path) -> None:
    """Without scores the searched knob's hardness is maximised."""
    study = Study.create(bench_tables())
    for value, outcome in ((4300, "pass"), (4600, "pass"), (4800, "crash")):
        study.record(outcome, settings={"clock": value})
    file = tmp_path / "runs.db"
    write_trials(file, "box", trials_of(study.history))
    assert loaded(file).best_trial.params["clock"] == 4600


def values(study: Study) -> list[float | None]:
    """Of its trials, in order."""
    return [trial.value for trial in trials_of(study.history)]


def test_of_trimming_the_least_power_that_held_is_best() -> None:
    """Power goes with the square of a voltage: V^2 f (the usual law of CMOS switching power)."""
    study = Study.create(bench_tables(aim="trim"))
    stock = float(study.history.definition.stock["volts"])
    for volts, outcome in ((stock, "pass"), (stock - 0.05, "pass"), (stock - 0.1, "crash")):
        study.record(outcome, settings={"volts": volts})
    powers = [(run.ran["volts"] / stock) ** 2 for run in study.history.runs]
    assert [math.exp(-value) for value in values(study)] == pytest.approx(powers)


def test_for_every_day_the_score_counts_where_there_is_one() -> None:
    """Else harder clocks count for more, whether they held or not."""
    scored, bare = (Study.create(bench_tables(aim="everyday")) for _ in range(2))
    for clock_at, outcome, score in ((4300, "pass", 900), (4400, "pass", 950), (4500, "crash", 0)):
        facts = {"score": score} if score else {}
        scored.record(outcome, settings={"clock": clock_at}, **facts)
        bare.record(outcome, settings={"clock": clock_at})
    assert values(scored) == [900, 950, 0]
    first, second, third = values(bare)
    assert first < second < third


def test_off_steps_out_of_range_and_old_choices_are_kept(tmp_path: Path) -> None:
    """Optuna refuses values outside a distribution: each trial's own holds what ran."""
    study = Study.create(tables(clock(), mode()))
    knob: Knob = study.history.definition.knobs["clock"]
    choice = [*study.history.definition.knobs["mode"].choices]
    for value in (knob.grid.low, knob.grid.low + knob.grid.step / 3, knob.grid.high):
        study.record("pass", settings={"clock": value, "mode": choice[-1]})
    for ending in ENDINGS:
        file = tmp_path / f"runs{ending}"
        write_trials(file, "box", trials_of(study.history))
        ran = [run.ran for run in study.history.runs]
        assert [dict(trial.params) for trial in loaded(file).trials] == ran


def test_a_study_made_by_optuna_is_taken_in(tmp_path: Path) -> None:
    """Its own trials: the value is the score, a violated constraint a crash, a failure void."""
    file = tmp_path / "theirs.db"
    theirs = optuna.create_study(
        storage=f"sqlite:///{file}", study_name="evening", direction="maximize"
    )
    space = {"clock": optuna.distributions.IntDistribution(4000, 5000, step=50)}
    for clock_at, value, held in ((4300, 10.5, -1.0), (4900, 1.0, 2.0)):
        theirs.add_trial(
            optuna.create_trial(
                params={"clock": clock_at},
                distributions=space,
                value=value,
                constraints={"own": held},
            )
        )
    theirs.add_trial(
        optuna.create_trial(state=TrialState.FAIL, params={"clock": 4500}, distributions=space)
    )
    theirs.ask(space)
    study = Study.create(bench_tables())
    assert taken(study, file) == 3
    runs = study.history.runs
    assert [(r.outcome, r.ran["clock"], r.score) for r in runs] == [
        ("pass", 4300, 10.5),
        ("crash", 4900, None),
        ("void", 4500, None),
    ]
    assert taken(study, file) == 0


def test_a_parameter_that_is_no_knob_is_named(tmp_path: Path) -> None:
    """With the trial, and the knob that was probably meant."""
    file = tmp_path / "theirs.journal"
    trial = optuna.create_trial(
        params={"clocc": 1.0},
        distributions={"clocc": optuna.distributions.FloatDistribution(0, 2)},
        value=1.0,
    )
    write_trials(file, "box", [trial])
    with pytest.raises(InputError, match=r"clocc.*is not known.*clock"):
        taken(Study.create(bench_tables()), file)


@pytest.mark.parametrize("ending", ENDINGS)
@pytest.mark.parametrize("content", [b"", b"garbage\n", b"{}\n", b"\x00" * 99, b'{"op_code":0}\n'])
def test_what_is_no_storage_is_refused_and_left_alone(
    tmp_path: Path, ending: str, content: bytes
) -> None:
    """Whatever Optuna raises becomes one sentence; the file is as it was."""
    file = tmp_path / f"odd{ending}"
    file.write_bytes(content)
    with pytest.raises(InputError, match="cannot be read as a storage of Optuna"):
        read_trials(file)
    assert file.read_bytes() == content


def test_another_database_is_not_made_into_a_storage(tmp_path: Path) -> None:
    """An SQLite file of something else gets no table."""
    file = tmp_path / "other.db"
    link = sqlite3.connect(file)
    link.execute("CREATE TABLE mine (a)")
    link.commit()
    link.close()
    before = file.read_bytes()
    with pytest.raises(InputError, match="cannot be read"):
        read_trials(file)
    assert file.read_bytes() == before


def test_names_and_places_that_cannot_be_are_told(tmp_path: Path) -> None:
    """No such file, another ending, a name that is taken, a folder that is not there."""
    trials = trials_of(told().history)
    with pytest.raises(InputError, match="cannot be read"):
        read_trials(tmp_path / "none.db")
    with pytest.raises(InputError, match="ends in one of"):
        read_trials(tmp_path / "runs.csv")
    with pytest.raises(InputError, match="ends in one of"):
        write_trials(tmp_path / "runs.csv", "box", trials)
    with pytest.raises(InputError, match="cannot be written"):
        write_trials(tmp_path / "none" / "runs.db", "box", trials)
    write_trials(tmp_path / "runs.db", "box", trials)
    with pytest.raises(InputError, match="is there already"):
        write_trials(tmp_path / "runs.db", "box", trials)


def test_a_study_that_minimises_or_wants_two_values_is_refused(tmp_path: Path) -> None:
    """A score is maximised."""
    for name, directions in (("a", ["minimize"]), ("b", ["maximize", "maximize"])):
        file = tmp_path / f"{name}.db"
        optuna.create_study(storage=f"sqlite:///{file}", directions=directions)
        with pytest.raises(InputError, match="one value that is maximised"):
            read_trials(file)


@pytest.mark.parametrize("row", [1, ["outcome"], {"outcome": 1}, {str(n): "" for n in range(2000)}])
def test_a_row_that_is_none_is_refused(row: object) -> None:
    """A stranger's storage may hold anything under our key."""
    trial = optuna.create_trial(value=1.0, user_attrs={"planner": row})
    with pytest.raises(InputError, match="no row of a run table"):
        table_of("box", [trial])
