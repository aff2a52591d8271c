"""What was set in a run on record, typed over on the page: as `Study.amend` does it."""

import json

import pytest

from planner.study import Study
from tests.page.test_mending import sent
from tests.page.visit import Visit, run_asked, words

SET = {"knob:clock": "4200", "knob:volts": "1.2", "knob:ratio": "40"}


def mended(visit: Visit, **fields: str) -> tuple[int, str]:
    """Run 1's form as it is shown first, with what is typed over."""
    told = {"run": "1", "amended": "0", "outcome": "pass"}
    answer = sent(visit, "/mend/1", **(told | SET | fields))
    return answer.status_code, words(answer.text)


@pytest.fixture
def passed(visit: Visit) -> Visit:
    """A page on a study whose first run passed at stock, and whose second is asked for."""
    visit.study().record("pass", settings={}, score=2417)
    visit.page()
    return visit


def bodies(visit: Visit, kind: str) -> list[dict[str, object]]:
    """What the ledger's entries of one kind say."""
    lines = (visit.folder / "ledger.jsonl").read_text(encoding="utf-8").splitlines()
    entries = [json.loads(line) for line in lines]
    return [entry["body"] for entry in entries if entry["kind"] == kind]


def test_a_setting_is_mended(passed: Visit) -> None:
    """Only what differs is written, and the first entry stays; everything reads the run anew."""
    shown = passed.ask("GET", "/mend/1", {}).text
    for name, value in SET.items():
        assert f'name="{name}" value="{value}"' in shown
    first = bodies(passed, "run")
    assert mended(passed, **{"knob:clock": "4.5GHz"})[0] == 303
    assert bodies(passed, "run") == first
    (entry,) = bodies(passed, "amended")
    assert (entry["run"], entry["settings"]) == (1, {"clock": 4500})
    (run,) = passed.study().history.runs
    assert (run.ran["clock"], run.score, str(run.outcome)) == (4500, 2417, "pass")
    assert "Run 1 amended: your own run, pass; clock 4500 MHz" in words(passed.page())


def test_it_is_as_if_recorded_right_at_first(passed: Visit) -> None:
    """The edge and the setting to keep are those of a study that was told the right value."""
    mended(passed, **{"knob:clock": "4500", "score": "2417"})
    right = Study.create(passed.folder / "study.toml", store="memory")
    right.record("pass", settings={"clock": 4500}, score=2417)
    assert passed.study().edges() == right.edges()
    assert passed.study().recommendation() == right.recommendation()


def test_the_same_form_again_changes_nothing(passed: Visit) -> None:
    """Nor does one that leaves every knob as it stands."""
    assert mended(passed, score="2417")[0] == 303
    assert bodies(passed, "amended") == []
    for _ in range(2):
        assert mended(passed, **{"knob:ratio": "41", "score": "2417"})[0] == 303
    assert [body["settings"] for body in bodies(passed, "amended")] == [{"ratio": 41}]


def test_what_lies_above_a_ceiling_is_told(passed: Visit) -> None:
    """It is what was run, so it is recorded; the page says so until another run is told."""
    mended(passed, **{"knob:volts": "1.3"})
    assert "volts 1.3 V is above the everyday ceiling (recorded, not refused)" in words(
        passed.page()
    )
    sent(passed, "/mend/1", run="1", amended="1", outcome="pass", **{"knob:volts": "1.39"})
    page = words(passed.page())
    assert "volts 1.39 V is PAST THE HARD STOP (recorded, not refused)" in page
    passed.tap("pass", run_asked(passed.page()))
    assert "PAST THE HARD STOP" not in words(passed.page()).split("Undo or mend it")[0]


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"knob:clock": "fast"}, "settings: clock = 'fast'"),
        ({"knob:clock": " "}, "clock: expected the value that was set, found nothing"),
        ({"knob:clock": "4500V"}, "settings: clock = '4500V'"),
        ({"knob:turbo": "1"}, "settings: 'turbo' is no knob of this study"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(
    passed: Visit, typed: dict[str, str], why: str
) -> None:
    """With the reason; what was typed is kept, and the run stays as it was."""
    before = passed.study().history.by_number[1]
    status, page = mended(passed, note="kept words", **typed)
    assert status == 422
    assert f"Not mended: {why}" in page
    assert passed.study().history.by_number[1] == before


def test_a_knob_that_is_newer_than_the_run(passed: Visit) -> None:
    """Stands at its stock value, and is no change unless another one is typed."""
    file = passed.folder / "study.toml"
    knob = '[[knob]]\nname = "late"\nlow = 1\nhigh = 5\nstep = 1\nstock = 2\n\n[[derived]]'
    file.write_text(file.read_text("utf-8").replace("[[derived]]", knob, 1), "utf-8")
    passed.page()
    assert 'name="knob:late" value="2"' in passed.ask("GET", "/mend/1", {}).text
    assert "not as set" not in words(passed.page())
    mended(passed, **{"knob:late": "2", "score": "2417"})
    assert bodies(passed, "amended") == []
    mended(passed, **{"knob:late": "3", "score": "2417"})
    assert passed.study().history.by_number[1].ran["late"] == 3


def test_what_was_read_back_is_told_beside_what_was_set(passed: Visit) -> None:
    """It is what counts: to type over what was set would seem to do nothing."""
    passed.study().amend(1, actual={"clock": 4150})
    shown = passed.ask("GET", "/mend/1", {}).text
    assert 'name="knob:clock" value="4200"' in shown
    assert "clock, MHz (read back: 4150 MHz, which is what counts)" in words(shown)
