"""What the renderers' small parts promise."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.report.text import phrases
from planner.report.text.documents import next_document, standing_document
from planner.report.text.json_form import json_text
from planner.report.text.layout import clean, columns, labelled, prose, shortened
from planner.report.text.proposal import after_no_start
from planner.report.text.recorded import flags, news_of_best
from planner.report.text.runs import run_lines
from planner.report.text.standing import Standing
from tests.models.scores.bench import scored_study
from tests.report.values import BEST, EDGES, HEAD, PROPOSAL, evening, fresh


@given(st.text())
def test_cleaned_text_steers_no_terminal(text: str) -> None:
    """Whatever was written: same length, nothing but printable characters and line feeds."""
    cleaned = clean(text)
    assert len(cleaned) == len(text)
    assert all(c.isprintable() or c == "\n" for c in cleaned)


@given(st.text(alphabet="ab -"), st.integers(20, 120))
def test_prose_keeps_every_word_within_the_width(text: str, width: int) -> None:
    """Wrapping neither loses nor adds a word; lines are at most as wide as asked."""
    lines = prose(text, width, 2, 2)
    assert "".join(" ".join(lines).split()) == "".join(text.split())
    assert all(len(line) <= width for line in lines)


def test_labels_stand_in_one_column() -> None:
    """Texts begin in the same place, and go on there."""
    lines = labelled([("Why", "one two three"), ("Chance", "four")], 18)
    assert lines == ["Why     one two", "        three", "Chance  four"]


def test_a_number_and_its_unit_are_not_parted() -> None:
    """A line may end before a value, never inside it."""
    assert prose("core_clock 5225 MHz", 18) == ["core_clock", "5225 MHz"]


def test_columns_line_up() -> None:
    """Left by default, right where asked."""
    assert columns([("a", "1"), ("bcd", "23")], right=(1,)) == ["a     1", "bcd  23"]


@given(st.text(min_size=1), st.integers(5, 40))
def test_shortened_text_is_one_line_that_fits(text: str, width: int) -> None:
    """A note with line feeds in it cannot break a table."""
    short = shortened(text, width)
    assert len(short) <= width
    assert "\n" not in short


@pytest.mark.parametrize(
    ("probability", "said"),
    [(0.0, "under 1%"), (0.0099, "under 1%"), (0.5, "50%"), (0.985, "98%"), (1.0, "over 99%")],
)
def test_chances_never_claim_certainty(probability: float, said: str) -> None:
    """0% and 100% would be lies."""
    assert phrases.chance(probability) == said


def test_a_setting_names_what_is_not_at_stock() -> None:
    """The searched knob always, the others where they differ."""
    definition = fresh().definition
    stock = phrases.setting(definition, definition.stock)
    assert stock == "core_clock 5000 MHz, others at stock"
    raised = phrases.setting(definition, definition.stock | {"memory_voltage": 1.2})
    assert raised == "core_clock 5000 MHz, memory_voltage 1.2 V, others at stock"


def test_a_value_past_every_ceiling_is_flagged_once() -> None:
    """The gravest word counts."""
    history = evening()
    said = flags(history.by_number[7], history.definition)
    assert [text.split()[0] for text in said] == ["core_voltage", "hotspot"]
    assert "PAST THE HARD STOP" in said[0]


def test_a_void_no_start_reminds_of_nothing() -> None:
    """The reminder follows the last run that counts."""
    history = evening()
    assert after_no_start(history)
    assert not after_no_start(replace(history, runs=history.runs[:-1]))
    assert not after_no_start(fresh())


def test_a_hostile_note_stays_in_its_line() -> None:
    """A ledger made by hand may hold a note with line feeds and escapes."""
    history = evening()
    run = history.runs[0]._replace(note="evil\n\x1b[2J\r9  pass")
    lines = run_lines(replace(history, runs=(run,)), 15, "", 80)
    assert len(lines) == 2
    assert clean(lines[1]).isprintable()


def test_documents_are_plain_json() -> None:
    """ASCII, no NaN, and every number as it is."""
    standing = Standing(evening(), EDGES, BEST, None, None, HEAD)
    text = json_text(standing_document(standing))
    assert text.isascii()
    read = json.loads(text)
    assert read["edges"][0]["edge"] == EDGES["core_clock"].value
    assert read["head"] == {"seq": HEAD.seq, "chain": HEAD.chain}
    assert read["ceilings"][0]["accepted_up_to"] == 1.3


def test_a_closed_search_says_why_to_programs() -> None:
    """`closed` is the reason where nothing is proposed, else null."""
    history = replace(evening(), verdict="nothing pays")
    assert next_document(history, None, False, BEST, None)["closed"] == "nothing pays"
    assert next_document(history, PROPOSAL, False, BEST, None)["closed"] is None


def test_a_new_best_is_to_be_saved() -> None:
    """At the first score there is nothing to beat; a capped or lower one is no news."""
    study = scored_study([4200.0])
    first = study.history.runs[-1]
    assert news_of_best(study.history, first, 80) == []
    better = study.record("pass", settings={"clock": 4300}, score=(first.score or 0) + 100)
    assert "save what proves it now" in " ".join(news_of_best(study.history, better, 80))
    worse = study.record("pass", settings={"clock": 4200}, score=1000)
    assert news_of_best(study.history, worse, 80) == []
    capped = study.record("pass", settings={"clock": 4300}, score=200_000, capped="power")
    assert news_of_best(study.history, capped, 80) == []
