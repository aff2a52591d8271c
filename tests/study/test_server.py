"""Two benches on one study in PostgreSQL: each asks and records, neither in the way of another."""

from pathlib import Path

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.errors import RecordError, StudyMissing
from planner.store import parse_address
from tests.postgres import PASSWORD, server_url, sql
from tests.study.makers import bench_tables, events_of, on_disk, write
from tests.study.processes import ran_together
from tests.study.servers import shared


@pytest.fixture(autouse=True)
def _person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    monkeypatch.setenv("PGPASSWORD", PASSWORD)


def at(bench: str, url: str, monkeypatch: pytest.MonkeyPatch) -> Study:
    """The study as a bench of that name opens it."""
    monkeypatch.setenv("PLANNER_BENCH", bench)
    return Study.open(url)


def grow_older(url: str, minutes: float) -> None:
    """Let all entries have been written so much earlier, by the server's clock."""
    study = parse_address(url).study
    sql(
        f"UPDATE planner_lines SET written = written - interval '{minutes} minutes'"
        f" WHERE study = '{study}'"
    )


def test_two_benches_are_asked_for_different_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each has its own pending run with its own number, and answers that."""
    url = server_url()
    Study.create(bench_tables(), url)
    left, right = at("left", url, monkeypatch), at("right", url, monkeypatch)
    asked = left.next(), right.next()
    assert [p.number for p in asked] == [1, 2]
    assert asked[0].settings != asked[1].settings
    assert "run 1 at left taken to end as is likely" in asked[1].reason
    assert left.next() == asked[0]
    assert right.record("crash").number == 2
    assert left.record("pass").number == 1
    assert {n: r.bench for n, r in left.history.by_number.items()} == {1: "left", 2: "right"}


def test_processes_that_ask_at_once_get_numbers_of_their_own() -> None:
    """Benches let go together: no number is given twice, and each is recorded once."""
    url = server_url()
    Study.create(bench_tables(), url)
    told = ran_together("bench", url, count=3, own_names=True)
    numbers = sorted(number for each in told for number in each)
    assert numbers == list(range(1, len(numbers) + 1))
    assert sorted(Study.open(url).history.by_number) == numbers


def test_a_study_is_made_once() -> None:
    """A second one of the name is refused; a name nobody made is told so. No password is shown."""
    url = server_url()
    with pytest.raises(StudyMissing, match="holds no study") as refused:
        Study.open(url)
    assert PASSWORD not in str(refused.value)
    Study.create(bench_tables(), url)
    with pytest.raises(StudyMissing, match="holds a study already") as refused:
        Study.create(bench_tables(), url)
    assert PASSWORD not in str(refused.value)


def test_a_silent_benchs_run_is_taken_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """After the minutes that the study states, under the same number; not before."""
    url = server_url()
    Study.create(bench_tables(take_over_minutes=90), url)
    left, right = at("left", url, monkeypatch), at("right", url, monkeypatch)
    asked = left.next()
    grow_older(url, 89)
    other = at("right", url, monkeypatch).next()
    assert other.number == 2
    right.record("pass")
    grow_older(url, 2)
    taken = at("right", url, monkeypatch).next()
    assert (taken.number, taken.settings, taken.bench) == (1, asked.settings, "right")
    assert "taken over from left, which has not answered for 91 min" in taken.reason
    with pytest.raises(RecordError, match="run 1 was taken over by right"):
        left.record("pass")
    assert left.next().number == 3
    assert left.record("crash", number=1).number == 1
    assert right.pending is None


def test_nothing_is_taken_over_unless_the_study_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without `take_over_minutes` a pending run waits for its bench for good."""
    url = server_url()
    Study.create(bench_tables(), url)
    at("left", url, monkeypatch).next()
    grow_older(url, 10_000)
    assert at("right", url, monkeypatch).next().number == 2


def test_two_that_take_over_at_once_do_not_both_get_it() -> None:
    """One is first; the other is asked for something else."""
    url = server_url()
    Study.create(bench_tables(take_over_minutes=5), url)
    Study.open(url).next()
    grow_older(url, 6)
    told = ran_together("next", url, count=2, own_names=True)
    assert sorted(number for number, _ in told) == [1, 2]


def test_in_a_folder_the_entries_times_decide(tmp_path: Path, monkeypatch) -> None:
    """There is no clock that all share: the times in the entries are compared with this one."""
    monkeypatch.setenv("PLANNER_BENCH", "left")
    monkeypatch.setattr("planner.journal.utc_now", lambda: "2026-01-02T20:30:00Z")
    asked = on_disk(tmp_path / "s", bench_tables(take_over_minutes=60)).next()
    monkeypatch.setenv("PLANNER_BENCH", "right")
    taken = Study.open(tmp_path / "s").next()
    assert (taken.number, taken.taken_from) == (asked.number, "left")
    monkeypatch.setattr("planner.journal.utc_now", lambda: "2999-01-02T20:30:00Z")
    asked = on_disk(tmp_path / "t", bench_tables(take_over_minutes=60)).next()
    monkeypatch.setenv("PLANNER_BENCH", "left")
    assert Study.open(tmp_path / "t").next().number == asked.number + 1


def test_terms_are_taken_over_with_the_run(tmp_path: Path, monkeypatch) -> None:
    """Asked on other terms, a bench gets a run of its own; on the same, it goes on as asked."""
    monkeypatch.setenv("PLANNER_BENCH", "left")
    monkeypatch.setattr("planner.journal.utc_now", lambda: "2026-01-02T20:30:00Z")
    asked = on_disk(tmp_path / "s", bench_tables(aim="peak", take_over_minutes=60)).next(
        only=["clock"]
    )
    monkeypatch.setenv("PLANNER_BENCH", "right")
    right = Study.open(tmp_path / "s")
    assert right.next(max_changes=1).number == asked.number + 1
    right.withdraw(asked.number + 1, "not run")
    taken = right.next()
    assert (taken.number, taken.terms) == (asked.number, asked.terms)
    assert right.next(only=["clock"]) == taken


def test_what_the_gate_forbids_by_now_is_not_taken_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """A ceiling lowered meanwhile holds for a run that was asked for before it."""
    url = server_url()
    given = bench_tables(take_over_minutes=5)
    Study.create(given, url)
    left = at("left", url, monkeypatch)
    asked = left.next()
    grow_older(url, 6)
    lowered = dict(given, knob=[dict(given["knob"][0]), *given["knob"][1:]])
    lowered["knob"][0]["hard_stop"] = asked.settings["clock"] - lowered["knob"][0]["step"]
    right = at("right", url, monkeypatch)
    from planner.store import definition_text

    right._journal.append(Kind.DEFINED, {"text": definition_text(lowered)})
    assert right.next().number == 2


def test_an_edit_at_one_bench_reaches_the_others_file(tmp_path: Path) -> None:
    """A file that says what the ledger said before is out of date; it undoes no edit."""
    url = server_url()
    Study.create(bench_tables(), url)
    one, two = shared(tmp_path / "one", url), shared(tmp_path / "two", url)
    for folder in (one, two):
        write(folder, bench_tables())
    write(one, bench_tables(minutes=77))
    left, right = Study.open(one), Study.open(two)
    left.next()
    right.next()
    assert (two / "study.toml").read_text() == (one / "study.toml").read_text()
    assert left.history.definition.goal.minutes == 77
    assert sum(e.kind is Kind.DEFINED for e in events_of(left)) == 2
