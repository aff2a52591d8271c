"""What a typed line means: each form in a table, and laws that hold of any line."""

import string
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planner import Study
from planner.cli.guided.answer import Answer, Complaint, Order, Wish
from planner.cli.guided.grammar import understood
from planner.cli.guided.words import OUTCOMES, WISHES
from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.outcome import Outcome
from planner.errors import RecordError
from planner.report.text.guided import ANSWERS
from tests.domain.makers import clock, mode, ratio, read, tables, volts

READINGS = [{"name": "hotspot", "unit": "C", "stop": 95}, {"name": "room", "unit": "C"}]
KNOBS = (clock(), volts(), ratio(), mode())
TABLES = tables(*KNOBS, reading=READINGS, workload=[{"name": "load", "scored": True}])
SCORED = read(TABLES)
PLAIN = read(tables(*KNOBS, reading=READINGS, workload=[{"name": "load"}]))
PARTS = read(tables(workload=[{"name": "load", "subscores": ["shade", "pack"]}]))


def answer(outcome: str, settings: dict[str, Value] | None = None, /, **facts: Any) -> Answer:
    """The answer expected."""
    return Answer(Outcome(outcome), facts, settings)


MEANT = {
    "p": answer("pass"),
    "  PASS ": answer("pass"),
    "passed": answer("pass"),
    "p 241.7": answer("pass", score=241.7),
    "p 241.7 hotspot=81 room=22": answer(
        "pass", score=241.7, readings={"hotspot": 81.0, "room": 22.0}
    ),
    "241.7 p": answer("pass", score=241.7),
    "p, 241.7, hotspot 81 C": answer("pass", score=241.7, readings={"hotspot": 81.0}),
    "p hotspot = 81C and Room=22": answer("pass", readings={"hotspot": 81.0, "room": 22.0}),
    "p score=241.7": answer("pass", score=241.7),
    "p capped by power": answer("pass", capped="power"),
    "p capped=heat 240": answer("pass", capped="heat", score=240.0),
    "p ran 4 min took 9min": answer("pass", run_minutes=4.0, minutes=9.0),
    "p minutes=9": answer("pass", minutes=9.0),
    "p cold boot": answer("pass", boot="cold"),
    "p boot=warm": answer("pass", boot="warm"),
    "p actual clock=4.55GHz": answer("pass", actual={"clock": 4550.0}),
    "p actual clock 4550 MHz mode=b": answer("pass", actual={"clock": 4550.0, "mode": "b"}),
    "p note room=warm, fan off": answer("pass", note="room=warm, fan off"),
    "c": answer("crash"),
    "c 85s": answer("crash", failed_after_s=85.0),
    "c 85 s": answer("crash", failed_after_s=85.0),
    "c 1m25s": answer("crash", failed_after_s=85.0),
    "c 2.3 min": answer("crash", failed_after_s=138.0),
    "crashed after 85s": answer("crash", failed_after_s=85.0),
    "c after 85s hang": answer("crash", failed_after_s=85.0, symptom="hang"),
    "c after=85s black screen": answer("crash", failed_after_s=85.0, symptom="black screen"),
    "c 85s saw stripes, then gone note it was warm": answer(
        "crash", failed_after_s=85.0, symptom="stripes, then gone", note="it was warm"
    ),
    "c suspect volts": answer("crash", suspect="volts"),
    "n": answer("no-start"),
    "no start": answer("no-start"),
    "no boot": answer("no-start"),
    "e 3": answer("errors", errors=3.0),
    "3 errors": answer("errors", errors=3.0),
    "e errors=3 after 2min": answer("errors", errors=3.0, failed_after_s=120.0),
    "w": answer("wrong-result"),
    "wrong result": answer("wrong-result"),
    "o 3min": answer("power-off", failed_after_s=180.0),
    "power off": answer("power-off"),
    "s 4min": answer("stopped", run_minutes=4.0),
    "stopped 90s": answer("stopped", run_minutes=1.5),
    "v": answer("void"),
    "v note the lamp tripped it": answer("void", note="the lamp tripped it"),
    "own pass": answer("pass", {}),
    "as is pass": answer("pass", {}),
    "own clock=4500 pass 241": answer("pass", {"clock": 4500.0}, score=241.0),
    "set clock 4.5 GHz volts=1210mV c 85s hang": answer(
        "crash", {"clock": 4500.0, "volts": 1.21}, failed_after_s=85.0, symptom="hang"
    ),
    "own ratio 52 x mode=b s 4min": answer(
        "stopped", {"ratio": 52.0, "mode": "b"}, run_minutes=4.0
    ),
    "own clock=4500 c actual clock=4475": answer(
        "crash", {"clock": 4500.0}, actual={"clock": 4475.0}
    ),
    "own volts=1.21 V v": answer("void", {"volts": 1.21}),
    "own volts=1.21 v": answer("void", {"volts": 1.21}),
    "": Order(Wish.NOTHING),
    "\t \xa0": Order(Wish.NOTHING),
    "u": Order(Wish.UNDO),
    "back": Order(Wish.UNDO),
    "?": Order(Wish.HELP),
    "show all": Order(Wish.SHOW, "all"),
    "note: the fan was off": Order(Wish.NOTE, "the fan was off"),
    "Q": Order(Wish.QUIT),
}


@pytest.mark.parametrize(("line", "meaning"), MEANT.items(), ids=MEANT)
def test_what_is_meant(line: str, meaning: Answer | Order) -> None:
    """Short, long, in any order, with or without blanks and units."""
    assert understood(line, SCORED) == meaning


NOT_MEANT = {  # a line, and what the complaint must name
    "foo": ["'foo'"],
    "crsh": ["'crsh'", "'crash'"],
    "undoo": ["'undo'"],
    "hang": ["'hang'", "c hang"],
    "85s": ["'85s'"],
    "241.7": ["'241.7'"],
    "p 241,7": ["'241,7'", "decimal point"],
    "p 241.7 242": ["score", "twice"],
    "p 1e5": ["'1e5'"],
    "p 241.7x": ["'241.7x'"],
    "p 85s": ["85s", "pass", "s 4min"],
    "p hang": ["'hang'", "pass"],
    "p c": ["pass and crash", "which"],
    "p hotspt=81": ["'hotspt'", "'hotspot'"],
    "p sky=81": ["'sky'", "hotspot, room"],
    "p hotspot": ["hotspot", "value"],
    "p hotspot=": ["hotspot", "value"],
    "p hotspot=warm": ["hotspot", "'warm'", "C"],
    "p hotspot=81V": ["hotspot", "'V'", "C"],
    "p hotspot=81 hotspot=82": ["hotspot", "twice"],
    "p clock=4500": ["actual clock=4500", "own clock=4500"],
    "p actual": ["actual", "knob"],
    "p capped sun": ["capped sun", "power, heat"],
    "p took 9": ["took 9", "unit"],
    "p flicker": ["'flicker'", "saw flicker", "note flicker"],
    "c 85": ["85", "unit", "85s"],
    "c 85s 90s": ["twice"],
    "c after": ["after"],
    "c after 85": ["after 85", "unit"],
    "c after 1m85s": ["after 1m85s", "1.5min"],
    "c saw": ["saw", "words"],
    "c note": ["note", "words"],
    "e": ["how many", "e 3"],
    "e 0": ["how many"],
    "s": ["how long", "s 4min"],
    "s 4": ["4", "unit"],
    "w 3": ["3", "wrong-result"],
    "own": ["how did it end"],
    "own clock=4500": ["how did it end"],
    "own clok=4500 pass": ["'clok'", "'clock'"],
    "own clock=4500V pass": ["clock", "'V'", "MHz"],
    "own mode=c pass": ["mode", "'c'", "a, b"],
    "undo that": ["'that'", "undo"],
    "note": ["note", "noted"],
    "y": ["'y'"],
    "no": ["'no'"],
    "=": ["'='"],
    "p =": ["'p='"],
    "p \x1b[2J": ["cannot be printed"],
    "p note " + "x" * 2000: ["2007 characters", "2000"],
}


@pytest.mark.parametrize(("line", "named"), NOT_MEANT.items(), ids=range(len(NOT_MEANT)))
def test_what_is_not_understood_is_named(line: str, named: list[str]) -> None:
    """Nothing is guessed: the words at fault stand in the complaint, and what was expected."""
    meaning = understood(line, SCORED)
    assert isinstance(meaning, Complaint)
    assert [text for text in named if text not in meaning.text] == []


def test_a_bare_number_is_a_score_only_where_runs_are_scored() -> None:
    """Else it is refused, with the way to say it all the same; parts make a workload scored."""
    refused = understood("p 241.7", PLAIN)
    assert isinstance(refused, Complaint)
    assert "score=241.7" in refused.text
    assert understood("p score=241.7", PLAIN) == answer("pass", score=241.7)
    assert understood("p 241.7 shade=3", PARTS) == answer(
        "pass", score=241.7, subscores={"shade": 3.0}
    )


def test_the_score_is_of_the_run_that_was_asked_for() -> None:
    """Of a proposal the workload that it named counts; of an own run the study's."""
    loads = [{"name": "load"}, {"name": "race", "scored": True}]
    definition = read(tables(workload=loads))
    assert isinstance(understood("p 241.7", definition), Complaint)
    assert understood("p 241.7", definition, "race") == answer("pass", score=241.7)
    assert isinstance(understood("own p 241.7", definition, "race"), Complaint)
    assert isinstance(understood("p 241.7", definition, "a load that is gone"), Complaint)


def test_a_name_that_may_be_two_things_is_not_guessed() -> None:
    """A reading called as a knob or a fact is."""
    readings = [{"name": "clock", "unit": "MHz"}, {"name": "score"}]
    definition = read(tables(reading=readings))
    for line in ("p clock=4500", "own clock 4500 p", "p score=3"):
        meaning = understood(line, definition)
        assert isinstance(meaning, Complaint)
        assert "may be a reading" in meaning.text


def test_every_outcome_has_a_letter_and_its_own_word() -> None:
    """All letters differ; what the screen offers is what is taken."""
    for outcome in Outcome:
        assert OUTCOMES[outcome.value] is outcome
    letters = [word for word in (*OUTCOMES, *WISHES) if len(word) == 1]
    assert {OUTCOMES[w] for w in letters if w in OUTCOMES} == set(Outcome)
    assert len(letters) == len(set(letters))
    for offered in ANSWERS[0][1].split(", "):
        letter, word = offered.split("\N{NO-BREAK SPACE}")
        assert OUTCOMES[letter] is OUTCOMES[word]


WORDS = [
    *OUTCOMES, *WISHES, "own", "set", "as-is", "actual", "after", "took", "ran", "capped", "by",
    "saw", "note", "hotspot", "room", "clock", "volts", "mode", "=", "==", "81", "85s", "1m", "C",
    "MHz", "power", "cold", "hang", "and", ",", "-3", "1e400", "9" * 50,
    "\N{ARABIC-INDIC DIGIT ONE}", "\N{SUPERSCRIPT TWO}", "\ufeff", "hotspot=81", "clock=4500",
    "errors=2", "boot=", "suspect", "x",
]  # fmt: skip
lines = st.one_of(
    st.text(max_size=80),
    st.lists(st.sampled_from(WORDS), max_size=8).map(" ".join),
    st.text(alphabet=string.printable, max_size=40),
)


@settings(max_examples=500)
@given(lines, st.sampled_from([SCORED, PLAIN, PARTS]))
@example("p 9" + "9" * 400, SCORED)
@example("c 1" + "0" * 60 + "s", SCORED)
@example("\ufeffp", SCORED)
def test_no_line_raises(line: str, definition: Definition) -> None:
    """It is understood or complained about in printable words, the same each time."""
    meaning = understood(line, definition)
    assert meaning == understood(line, definition)
    assert understood(f"{line} \r", definition) == meaning
    if isinstance(meaning, Complaint):
        assert meaning.text
        assert meaning.text.isprintable()


@settings(max_examples=300)
@given(lines)
def test_what_is_understood_can_be_recorded_or_is_refused(line: str) -> None:
    """Facts are as `Study.record` takes them: it is refused for a value at most, by its name."""
    meaning = understood(line, SCORED)
    if not isinstance(meaning, Answer):
        return
    study = Study.create(TABLES)
    study.next()
    try:
        run = study.record(meaning.outcome, settings=meaning.settings, **meaning.facts)
    except RecordError as error:
        said = str(error)
    else:
        assert run.outcome is meaning.outcome
        return
    assert "is no fact" not in said
    assert "is no knob" not in said
