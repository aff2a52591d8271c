"""What the page says is to be kept: every day, and at own risk once that was accepted."""

from pathlib import Path

from planner.study import Study
from tests.page.visit import Visit, words

RISKY, SAFE = {"volts": 1.3}, {"volts": 1.2}


def risked(folder: Path) -> Study:
    """A study whose searched voltage rises above its everyday ceiling of 1.25 V."""
    toml = folder / "study.toml"
    text = toml.read_text("utf-8").replace('knob = "clock"', 'knob = "volts"')
    text = text.replace('harder = "down"\nsupports = ["clock"]', 'harder = "up"')
    toml.write_text(text, encoding="utf-8")
    study = Study.open(folder)
    study.adopt()
    return study


def test_without_accepted_risk_there_is_one_setting(folder: Path) -> None:
    """And the best score of a run under all everyday ceilings, with its run."""
    study = Study.open(folder)
    study.record("pass", settings={"clock": 4300}, score=2400)
    study.record("pass", settings={"clock": 4350}, score=2390)
    text = words(Visit(folder).page())
    assert "To keep every day" in text
    assert "To keep at your own risk" not in text
    assert "Best score 2400, run 1: clock 4300 MHz" in text


def test_own_risk_and_everyday_stand_apart(folder: Path) -> None:
    """A score above a ceiling is never the everyday one, and says what it is."""
    study = risked(folder)
    study.accept_risk("volts", "1.35V")
    for _ in range(6):
        study.record("pass", settings=SAFE, score=2400)
        study.record("pass", settings=RISKY, score=2500)
    everyday, best = study.recommendation(everyday_only=True), study.recommendation()
    assert everyday.settings["volts"] <= 1.25 < best.settings["volts"]
    text = words(Visit(folder).page())
    own_risk, daily = text.index("To keep at your own risk"), text.index("To keep every day")
    assert own_risk < text.index("Best score 2500, run 2") < daily
    assert daily < text.index("Best score 2400, run 1")
    assert "AT YOUR OWN RISK: above the everyday ceiling of volts" in text[own_risk:daily]


def test_minutes_left_and_the_reason_to_stop(folder: Path) -> None:
    """What is left of the evening, never less than nothing, and the closing advice."""
    toml = folder / "study.toml"
    toml.write_text(
        toml.read_text("utf-8").replace('name = "box"\n', 'name = "box"\nminutes = 30\n', 1),
        encoding="utf-8",
    )
    study = Study.open(folder)
    study.adopt()
    study.record("pass", settings=SAFE, minutes="12min")
    assert "Minutes 18 min left; 12 spent of 30" in words(Visit(folder).page())
    study.record("pass", settings=SAFE, minutes="25min")
    text = words(Visit(folder).page())
    assert "Minutes 0 min left; 37 spent of 30" in text
    assert f"Stop {study.closing()}" in text


def test_what_was_seen_is_offered_and_recorded(visit: Visit) -> None:
    """Common sights to choose from (common practice, no source); any other may be typed."""
    page = visit.page()
    assert 'name="symptom"' in page
    assert 'list="seen"' in page
    assert '<option value="blank screen">' in page
    visit.tap("crash", 1, symptom="smell of warm dust")
    assert visit.study().history.runs[0].symptom == "smell of warm dust"


def test_the_last_failure_is_blamed_whatever_followed(folder: Path) -> None:
    """A pass after it does not take the blame from the page."""
    study = Study.open(folder)
    study.record("crash", settings={"clock": 4900})
    study.record("pass", settings={"clock": 4300})
    text = words(Visit(folder).page())
    assert "What run 1 is blamed on share knob group value" in text
