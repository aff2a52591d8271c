"""Runs told anew, runs of one's own, and forms that arrive twice or at another study."""

from pathlib import Path

import pytest
from werkzeug.test import TestResponse

from planner.study import Study
from tests.page.visit import HERE, Visit, run_asked, words


def sent(visit: Visit, path: str, **fields: str) -> TestResponse:
    """A form of the page, sent to one of its addresses."""
    return visit.ask("POST", path, {"Origin": HERE}, data=fields)


def mended(visit: Visit, run: int, outcome: str, **fields: str) -> TestResponse:
    """The form of a run on record as the page shows it first, with what is typed over."""
    return sent(visit, f"/mend/{run}", run=str(run), amended="0", outcome=outcome, **fields)


def test_a_run_is_told_anew(visit: Visit) -> None:
    """What is left blank is taken back, what the outcome bars goes, the rest stays."""
    visit.tap("crash", run_asked(visit.page()), failed_after="85s", note="fan was off")
    shown = visit.ask("GET", "/mend/1", {}).text
    for typed in ('value="85s"', 'value="fan was off"', "crash <small>as on record"):
        assert typed in shown
    taken = mended(visit, 1, "pass", failed_after="85s", note="", score="2417")
    assert (taken.status_code, taken.headers["Location"]) == (303, "../")
    (run,) = visit.study().history.runs
    assert (str(run.outcome), run.failed_after_s, run.note, run.score) == ("pass", None, "", 2417)


def test_what_is_mended_twice_is_mended_once(visit: Visit) -> None:
    """The same form again changes nothing, and is no error."""
    visit.tap("pass", run_asked(visit.page()))
    assert [mended(visit, 1, "crash").status_code for _ in range(2)] == [303, 303]
    assert visit.study().history.by_number[1].amended == 1


def test_two_who_mend_one_run(visit: Visit) -> None:
    """The second is told so, sees what stands now, and loses nothing typed."""
    visit.tap("pass", run_asked(visit.page()))
    visit.study().amend(1, note="from the machine")
    late = mended(visit, 1, "crash", symptom="hang")
    assert late.status_code == 422
    assert "Not mended: run 1 was mended elsewhere meanwhile" in words(late.text)
    assert 'value="hang"' in late.text
    assert 'name="amended" value="1"' in late.text
    assert str(visit.study().history.by_number[1].outcome) == "pass"


def test_the_run_asked_for_on_a_mistake_is_taken_back_if_wished(visit: Visit) -> None:
    """Offered for the last run only; unticked, the pending run stays."""
    visit.tap("pass", run_asked(visit.page()))
    assert run_asked(visit.page()) == 2
    assert 'name="anew" value="2" checked' in visit.ask("GET", "/mend/1", {}).text
    mended(visit, 1, "crash")
    assert run_asked(visit.page()) == 2
    sent(visit, "/mend/1", run="1", amended="1", outcome="pass", anew="2")
    assert run_asked(visit.page()) == 3
    visit.tap("pass", 3)
    assert 'name="anew"' not in visit.ask("GET", "/mend/1", {}).text


@pytest.mark.parametrize("outcome", ["errors", "stopped", "fine", ""])
def test_what_cannot_be_mended_is_refused(visit: Visit, outcome: str) -> None:
    """Status 422 with the reason; the run stays as it is."""
    visit.tap("pass", run_asked(visit.page()))
    before = visit.study().history.by_number[1]
    refused = mended(visit, 1, outcome, symptom="kept words")
    assert refused.status_code == 422
    assert "Not mended:" in words(refused.text)
    assert 'value="kept words"' in refused.text
    assert visit.study().history.by_number[1] == before


def test_a_run_that_is_not_there_cannot_be_mended(visit: Visit) -> None:
    """Neither shown nor taken."""
    assert visit.ask("GET", "/mend/7", {}).status_code == 404
    assert mended(visit, 7, "pass").status_code == 404


def test_an_own_run_is_recorded_once(visit: Visit) -> None:
    """The form sent twice is one run, also to a page that was started anew in between."""
    shown = visit.ask("GET", "/own", {}).text
    assert 'name="knob:clock" value="4200"' in shown
    told = {"run": "1", "outcome": "pass", "knob:clock": "4.5GHz", "knob:volts": "", "note": "x"}
    again = Visit(visit.folder)
    for each in (visit, visit, again):
        assert sent(each, "/own", **told).status_code == 303
    (run,) = visit.study().history.runs
    assert (run.settings["clock"], run.note, run.asked) == (4500, "x", None)


def test_equal_own_runs_from_forms_of_their_own_are_several(visit: Visit) -> None:
    """Whoever repeats a setting three times has run it three times."""
    for number in (1, 2, 3):
        assert run_asked(visit.ask("GET", "/own", {}).text) == number
        sent(visit, "/own", run=str(number), outcome="pass", **{"knob:clock": "4500"})
    assert [run.settings["clock"] for run in visit.study().history.runs] == [4500] * 3


def test_an_own_run_at_nonsense_is_refused(visit: Visit) -> None:
    """The reason, and what was typed."""
    told = {"run": "1", "outcome": "pass", "knob:clock": "fast", "note": "kept words"}
    refused = sent(visit, "/own", **told)
    assert refused.status_code == 422
    assert "Not recorded:" in words(refused.text)
    assert 'value="kept words"' in refused.text
    assert 'value="fast"' in refused.text
    assert visit.study().history.runs == ()


def test_an_answer_sent_again_after_a_restart_is_no_second_run(visit: Visit) -> None:
    """Its receipt was lost, the server came back without memory: what stands says the same."""
    run = run_asked(visit.page())
    fields = {"failed_after": "85s", "note": "it hung", "score": ""}
    visit.tap("crash", run, **fields)
    again = Visit(visit.folder)
    assert again.tap("crash", run, **fields).status_code == 303
    assert again.tap("crash", run, **(fields | {"note": "other"})).status_code == 422
    assert again.tap("crash", run, failed_after="85s", note="").status_code == 422
    assert len(visit.study().history.runs) == 1


def test_an_answer_to_another_studys_run_is_refused(visit: Visit) -> None:
    """Kept on a phone, it meets a study served later at the same address."""
    run = run_asked(visit.page())
    late = visit.tap("crash", run, asked="2025-01-01T20:00:00Z")
    assert late.status_code == 422
    assert f"run {run} was asked for at 2025-01-01T20:00:00Z, and is another run" in words(
        late.text
    )
    asked = visit.study().pending
    assert asked is not None
    assert visit.tap("crash", run, asked=asked.time).status_code == 303


def test_slips_keep_others_out_too(folder: Path) -> None:
    """Another site's form reaches neither; nor does one without the key."""
    visit = Visit(folder)
    study = Study.open(folder)
    study.record("pass", settings={})
    for path in ("/own", "/mend/1"):
        foreign = visit.ask(
            "POST", path, {"Origin": "http://evil.example"}, data={"run": "1", "outcome": "crash"}
        )
        assert foreign.status_code == 403
    assert [str(run.outcome) for run in study.history.runs] == ["pass"]
