"""What the page shows: hostile words stay words, warnings and aims have their place."""

import re
from dataclasses import fields, is_dataclass
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from markupsafe import escape

from planner.driving.trail import Begun, Trail, UnderWay
from planner.page.view import view_of
from planner.report.text import phrases
from planner.study import Study
from tests.page.visit import Visit, run_asked, words
from tests.report.accounts import peak_study

HOSTILE = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>&amp;{{7*7}}\x1b[2J"


def hostile(shown: Any) -> Any:
    """What is shown with a hostile text in every place that holds one."""
    if is_dataclass(shown):
        told = {field.name: hostile(getattr(shown, field.name)) for field in fields(shown)}
        return type(shown)(**told)
    if isinstance(shown, str):
        return HOSTILE
    if isinstance(shown, int) or shown is None:
        return shown and 1
    return type(shown)(hostile(part) for part in shown) or [(HOSTILE, HOSTILE)]


def test_hostile_words_stay_words(visit: Visit, monkeypatch: pytest.MonkeyPatch) -> None:
    """Names, notes and whatever else a study tells are shown as they are, never as markup."""
    monkeypatch.setattr("planner.page.desk.view_of", lambda *given: hostile(view_of(*given)))
    page = visit.page()
    assert words(page).count(HOSTILE.replace("\x1b", "?")) > 10
    assert page.count("<script") == 1  # its own, in the head
    for never in ("<img", "onerror=alert(1)>", "\x1b"):
        assert never not in page


def test_hostile_answers_stay_words(visit: Visit) -> None:
    """What was typed comes back in its field, and as a note of the run, as it was typed."""
    run = run_asked(visit.page())
    typed = HOSTILE.removesuffix("\x1b[2J")
    refused = visit.tap("<b>pass", run, note=typed)
    assert refused.status_code == 422
    assert f'value="{escape(typed)}"' in refused.text
    assert visit.tap("crash", run, note=typed, symptom="<u>blank</u>").status_code == 303
    page = visit.page()
    assert f"<u>blank</u>, {typed}" in unescape(page)
    for shown in (page, refused.text):
        assert shown.count("<script") == 1
        assert not any(markup in shown for markup in ("<img", "<b>", "<u>"))


def test_own_risk_is_said_in_words(visit: Visit) -> None:
    """Above the everyday ceiling the page says so in capitals, as every screen does."""
    toml = visit.folder / "study.toml"
    text = toml.read_text("utf-8").replace('knob = "clock"', 'knob = "volts"')
    text = text.replace('harder = "down"\nsupports = ["clock"]', 'harder = "up"')
    toml.write_text(text.replace("stock = 1.2\n", "stock = 1.25\n"), encoding="utf-8")
    study = visit.study()
    study.accept_risk("volts", "1.35V")
    study.record("pass", settings={})
    assert "AT YOUR OWN RISK: above the everyday ceiling of volts" in words(visit.page())


def test_after_a_restart_the_answer_is_asked_for(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A run from before the restart is shown with the question how it ended."""
    monkeypatch.setattr("planner.study.boot_mark", lambda: "one")
    Study.open(folder).next()
    monkeypatch.setattr("planner.page.asked.boot_mark", lambda: "other")
    assert "This machine was started anew since this run was asked for" in words(
        Visit(folder).page()
    )


def test_edges_runs_and_minutes_are_there(visit: Visit) -> None:
    """The same figures as the study's own."""
    visit.tap("pass", run_asked(visit.page()))
    visit.tap("crash", run_asked(visit.page()), failed_after="85s")
    text = words(visit.page())
    study = visit.study()
    edge = study.edges()["clock"]
    assert edge.runs == 2
    knob = study.history.definition.knobs["clock"]
    assert f"clock {knob.show_at(knob.hardness(edge.value))}" in text
    assert f"{round(study.history.minutes_spent, 1):g} spent" in text
    assert "after 85 s" in text


def test_a_failed_run_of_a_peak_search_is_blamed(folder: Path) -> None:
    """With many knobs in play the page says which one the last failure is put down to."""
    toml = folder / "study.toml"
    toml.write_text(
        toml.read_text("utf-8").replace('knob = "clock"', 'aim = "peak"'), encoding="utf-8"
    )
    study = Study.open(folder)
    study.record("crash", settings={"clock": 4900})
    text = words(Visit(folder).page())
    assert "What run 1 is blamed on share knob group value" in text
    assert study.blame(1).shares["clock"] > 0.5


def test_a_long_setting_is_not_told_above_the_next_run() -> None:
    """What was recorded last is one line there; its many values stand with the runs below."""
    study = peak_study()
    run = study.history.runs[-1]
    where = phrases.setting(study.history.definition, run.ran)
    assert len(where) > 100
    view = view_of(study.history, None, None, "", "")
    told = f"Run {run.number} recorded: your own run, {phrases.ending(run)}; "
    assert view.last.startswith(f"{told}{phrases.minutes(run.minutes)} all in.")
    assert all(knob not in view.last for knob in where.split(", "))


def test_a_frontier_is_shown_as_a_table(folder: Path) -> None:
    """The edge along the second knob, in the cells of `show`."""
    toml = folder / "study.toml"
    text = toml.read_text("utf-8").replace(
        'knob = "clock"', 'aim = "frontier"\nknob = "clock"\nalong = "volts"'
    )
    toml.write_text(text, encoding="utf-8")
    assert "The frontier volts clock to keep edge, 90% sure runs 1 V" in words(Visit(folder).page())
    study = Study.open(folder)
    study.record("pass", settings={"clock": 4300, "volts": 1.3})
    told = words(Visit(folder).page())
    assert "1.3 V *" in told
    assert "* no run is asked for here" in told


def test_a_score_is_asked_for_where_there_is_one(folder: Path) -> None:
    """Not of a workload without; of a run that has one all the same it can be mended."""
    assert 'name="score"' in Visit(folder).page()
    toml = folder / "study.toml"
    toml.write_text(toml.read_text("utf-8").replace("scored = true\n", ""), encoding="utf-8")
    visit = Visit(folder)
    assert 'name="score"' not in visit.page()
    study = Study.open(folder)
    study.record("pass", settings={"clock": 4300})
    study.record("pass", settings={"clock": 4300}, score=2400)
    for run in study.history.runs:
        shown = visit.ask("GET", f"/mend/{run.number}", {}).text
        assert ('name="score"' in shown) == (run.score is not None)


def test_every_field_has_a_label_and_the_page_a_language(visit: Visit) -> None:
    """What a screen reader needs: labels, headings, the language (WCAG 2.2, 1.3.1 and 3.1.1)."""
    page = visit.page()
    assert '<html lang="en">' in page
    assert page.count("<label>") == page.count("<input name=")
    assert page.count("<h1") == 1


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
def test_contrast(visit: Visit, scheme: int) -> None:
    """WCAG 2.2: text 4.5 to 1 (1.4.3), outlines of fields 3 to 1 (1.4.11), by its own formula."""
    style = visit.ask("GET", "/page.css", {}).text
    named = dict(re.findall(r"--(\w+): (#\w{6});", style.split("prefers-color-scheme")[scheme]))
    for text in ("ink", "soft"):
        for ground in ("paper", "faint"):
            assert _contrast(named[text], named[ground]) >= 4.5
    assert _contrast(named["line"], named["paper"]) >= 3


def test_the_formula_of_contrast() -> None:
    """Black on white is 21 to 1, and #767676 on white the lightest grey that passes 4.5."""
    assert _contrast("#000000", "#ffffff") == pytest.approx(21)
    assert _contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


def _contrast(one: str, other: str) -> float:
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_a_run_that_drive_has_begun_is_said_so(visit: Visit) -> None:
    """While the drive lasts, and the page changes once it begins and once it ends."""
    run = int(run_asked(visit.page()))
    words_of_drive = f"planner drive is running this one now, and records run {run} itself."
    assert words_of_drive not in words(visit.page())
    trail = Trail(visit.folder)
    with trail.held():
        trail.write(UnderWay("boot", begun=Begun(run)))
        assert words_of_drive in words(visit.page())
        trail.clear()
    assert words_of_drive not in words(visit.page())
