"""Answers from the page: each is recorded once, for the run that was shown, or refused in words."""

from pathlib import Path

import pytest

from planner.errors import LedgerBusy
from planner.study import Study
from tests.page.visit import Visit, run_asked, words


def test_a_whole_evening_is_recorded_by_taps(visit: Visit) -> None:
    """Every outcome with what belongs to it, by plain form posts; the study holds them all."""
    told = [
        ("pass", {"score": "2417", "reading:hotspot": "81C"}),
        ("crash", {"failed_after": "85s", "symptom": "blank screen", "note": "fan was off"}),
        ("errors", {"errors": "3"}),
        ("no-start", {}),
        ("wrong-result", {}),
        ("power-off", {}),
        ("stopped", {"held": "4"}),
        ("void", {"note": "the door bell"}),
    ]
    for outcome, fields in told:
        run = run_asked(visit.page())
        answer = visit.tap(outcome, run, **fields)
        assert (answer.status_code, answer.headers["Location"]) == (303, "./")
        assert f"Run {run} recorded: {outcome}" in words(visit.page())
    runs = visit.study().history.runs
    assert [run.outcome for run in runs] == [outcome for outcome, _ in told]
    first, second, third = runs[:3]
    assert (first.score, first.readings) == (2417, {"hotspot": 81})
    assert (second.failed_after_s, second.symptom, second.note) == (
        85,
        "blank screen",
        "fan was off",
    )
    assert (third.errors, runs[6].run_minutes) == (3, 4)


def test_the_page_says_what_next_and_why(visit: Visit) -> None:
    """Setting, reason, chance, minutes: the same as the study's own proposal."""
    text = words(visit.page())
    asked = visit.study().pending
    assert asked is not None
    assert asked.changes
    for change in asked.changes:
        assert f"{change.knob} {change.before:g} MHz -> {change.after:g} MHz" in text
    assert f"Why {asked.reason}" in text
    assert f"{asked.pass_probability:.0%} to pass" in text
    assert f"{asked.workload}, {asked.run_minutes:g} min" in text


def test_a_stale_page_records_nothing_and_loses_nothing(visit: Visit) -> None:
    """Another window answered meanwhile: said in words, what was typed stands in the form."""
    run = run_asked(visit.page())
    visit.study().record("pass", number=run)
    late = visit.tap("crash", run, note="it hung", failed_after="85s")
    assert late.status_code == 422
    assert f"Not recorded: number = {run}: run {run} is on record as pass" in words(late.text)
    assert 'value="it hung"' in late.text
    assert 'value="85s"' in late.text
    assert f"what stands here now is run {run + 1}." in words(late.text)
    assert [r.outcome for r in visit.study().history.runs] == ["pass"]


def test_a_double_tap_records_once(visit: Visit) -> None:
    """The same form twice is one run, and no error: the person tapped twice, not mistakenly."""
    run = run_asked(visit.page())
    assert [visit.tap("crash", run).status_code for _ in range(2)] == [303, 303]
    assert [r.number for r in visit.study().history.runs] == [run]


def test_a_tap_that_lands_on_the_next_run_is_refused(visit: Visit) -> None:
    """The second half of a double tap hits a page that was shown a moment ago."""
    visit.tap("pass", run_asked(visit.page()))
    after = run_asked(visit.ask("GET", "/", {}).text)
    visit.clock += 0.3
    hasty = visit.tap("pass", after)
    assert hasty.status_code == 422
    assert f"run {after} was shown only 0.3 s before" in words(hasty.text)
    visit.clock += 2
    assert visit.tap("pass", after).status_code == 303


def test_what_was_pending_before_may_be_answered_at_once(folder: Path) -> None:
    """A run that was asked for before the page was served may well have been run."""
    asked = Study.open(folder).next()
    assert asked is not None
    visit = Visit(folder)
    assert run_asked(visit.ask("GET", "/", {}).text) == asked.number
    assert visit.tap("crash", asked.number).status_code == 303


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"outcome": ""}, "the Enter key records nothing"),
        ({"outcome": "fine"}, "outcome = 'fine': expected one of"),
        ({"outcome": "errors"}, "expected their count"),
        ({"outcome": "pass", "score": "12 parsecs"}, "score"),
        ({"outcome": "pass", "failed_after": "85s"}, "a pass has not failed"),
        ({"outcome": "pass", "note": "a\x1b[31mb"}, "printable"),
        ({"outcome": "pass", "run": "x"}, "expected the number of the run"),
        ({"outcome": "pass", "run": "9" * 5000}, "expected the number of the run"),
        ({"outcome": "pass", "run": "99"}, "is not pending"),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    visit: Visit, fields: dict[str, str], said: str
) -> None:
    """Status 422, the reason on the page, the other fields kept, nothing on record."""
    run = run_asked(visit.page())
    sent = {"run": str(run), "symptom": "kept words", **fields}
    refused = visit.ask("POST", "/record", {"Sec-Fetch-Site": "same-origin"}, data=sent)
    assert refused.status_code == 422
    assert said in words(refused.text)
    assert 'value="kept words"' in refused.text
    assert "\x1b" not in refused.text
    assert visit.study().history.runs == ()


def test_a_busy_ledger_is_said_and_the_form_kept(
    visit: Visit, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program holds the ledger: nothing is recorded, nothing typed is lost."""
    run = run_asked(visit.page())

    def busy(*_: object, **__: object) -> None:
        raise LedgerBusy("another program holds the ledger")

    monkeypatch.setattr(Study, "record", busy)
    refused = visit.tap("pass", run, note="kept words")
    assert refused.status_code == 503
    assert "another program holds the ledger" in words(refused.text)
    assert 'value="kept words"' in refused.text


def test_the_mark_changes_when_another_window_writes(visit: Visit) -> None:
    """What the page's script looks at: the same as on the page until someone writes."""
    page = visit.page()
    mark = visit.mark()
    assert f'data-mark="{mark}"' in page
    visit.study().record("crash", number=run_asked(page))
    assert visit.mark() != mark
    assert "Run 1 recorded: crash" in words(visit.page())


def test_a_closed_study_shows_the_reason_and_no_form(visit: Visit) -> None:
    """Nothing is asked for, the setting to keep and how to go on are there."""
    visit.study().close("enough for tonight")
    page = visit.page()
    assert "<form" not in page
    assert "Closed enough for tonight. To go on all the same: planner reopen -s box" in words(page)


def test_a_run_that_was_pending_at_the_close_is_still_answered(visit: Visit) -> None:
    """Closing at the machine takes no answer away from the phone."""
    run = run_asked(visit.page())
    visit.study().close("enough for tonight")
    page = visit.page()
    assert "The study is closed. If this run was made, tell how it ended" in words(page)
    assert visit.tap("pass", run_asked(page)).status_code == 303
    assert [r.number for r in visit.study().history.runs] == [run]
    assert "<form" not in visit.page()


def test_a_mistake_in_the_edited_file_leaves_the_pending_run(visit: Visit) -> None:
    """The fault is said; the run that is pending can still be answered."""
    run = run_asked(visit.page())
    (visit.folder / "study.toml").write_text("[study]\nname = 7\n", encoding="utf-8")
    page = visit.page()
    assert "Nothing new can be asked for:" in words(page)
    assert run_asked(page) == run
    assert visit.tap("pass", run).status_code == 303


def test_a_mistake_in_the_file_and_nothing_pending(visit: Visit) -> None:
    """It does not say that the search is over when only the file is at fault."""
    (visit.folder / "study.toml").write_text("[study]\nname = 7\n", encoding="utf-8")
    text = words(visit.page())
    assert "Nothing new can be asked for:" in text
    assert "no run is asked for" in text
    assert "Go on" in text
    assert "Stop" not in text


def test_a_damaged_ledger_is_told_in_words(visit: Visit) -> None:
    """No traceback, no empty page."""
    visit.page()
    (visit.folder / "ledger.jsonl").write_bytes(b"{}\n" * 50)
    broken = visit.ask("GET", "/", {})
    assert broken.status_code == 500
    assert "The study cannot be read" in words(broken.text)
    assert "See to it at the machine with planner check" in words(broken.text)
