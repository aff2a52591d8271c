"""Tables as people keep them: separators, units, commas, words, blanks."""

import pytest

from planner import Study
from planner.domain.run import Run
from tests.importing.makers import lab, planned, take


def taken(text: str | bytes) -> list[Run]:
    """The runs of a fresh study that took the table in."""
    study = Study.create(lab())
    take(study, text)
    return list(study.history.runs)


NOTEBOOK = [
    ["outcome", "clock", "volts", "hot", "failed_after_s", "shade", "note"],
    ["pass", "4500", "1.25", "81.5", "", "12", "first light"],
    ["crash", "4.6GHz", "1250 mV", "", "1.5min", "", ""],
]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_a_notebook_is_read(separator: str, end: str, mark: bytes) -> None:
    """Whatever parts cells and lines, with the mark of a spreadsheet or without."""
    text = end.join(separator.join(row) for row in NOTEBOOK)
    first, second = taken(mark + text.encode())
    assert (first.outcome, first.note, first.asked) == ("pass", "first light", None)
    assert first.settings == {"clock": 4500.0, "volts": 1.25, "ratio": 40.0, "mode": "auto"}
    assert (first.readings, first.subscores) == ({"hot": 81.5}, {"shade": 12.0})
    assert (second.ran["clock"], second.ran["volts"]) == (4600.0, 1.25)
    assert (second.failed_after_s, second.readings) == (90.0, {})
    assert first.workload == second.workload == "load"
    assert first.run_minutes == 10.0


@pytest.mark.parametrize(
    ("heading", "cell", "value"),
    [
        ("clock", "4500", 4500.0),
        ("set clock", "4500 MHz", 4500.0),
        ("clock [GHz]", "4.5", 4500.0),
        ("set clock [GHz]", "4.5", 4500.0),
        ("set clock [GHz]", "4500 MHz", 4500.0),
        ("set clock [kHz]", "4.5e6", 4500.0),
        ("clock [MHz]", " 4500 ", 4500.0),
    ],
)
def test_a_unit_stands_in_the_heading_or_in_the_cell(heading: str, cell: str, value: float) -> None:
    """The cell's own wins."""
    assert taken(f"outcome,{heading}\npass,{cell}\n")[0].settings["clock"] == value


def test_a_conversion_is_exact() -> None:
    """In decimals, as everywhere in the planner: 1.3 V is not 1.3 V and a last bit."""
    (run,) = taken("outcome,volts [mV]\npass,1300\n")
    assert run.settings["volts"] == 1.3


@pytest.mark.parametrize("cell", ["1,35", "1,35V", "1,35 V", "1350mV", "1.35", "+1,35", "135e-2"])
def test_a_comma_is_a_decimal_one_where_semicolons_part_the_cells(cell: str) -> None:
    """As spreadsheets write in much of Europe."""
    assert taken(f"outcome;volts\npass;{cell}\n")[0].settings["volts"] == 1.35


@pytest.mark.parametrize(
    ("cell", "value"), [("auto", "auto"), ("1", 1.0), ("2.5", 2.5), ("2.50", 2.5), (" 1 ", 1.0)]
)
def test_a_choice_is_named(cell: str, value: float | str) -> None:
    """By its word, or by its number however written."""
    assert taken(f"outcome,mode\npass,{cell}\n")[0].settings["mode"] == value


def test_what_really_ran_has_columns_of_its_own() -> None:
    """Empty where it ran as set."""
    first, second = taken("outcome,set clock,ran clock\npass,4500,4475\npass,4500,\n")
    assert (first.settings["clock"], first.ran["clock"]) == (4500.0, 4475.0)
    assert second.ran == second.settings


def test_empty_rows_are_passed_over() -> None:
    """As spreadsheets leave them at the end, and people between evenings; nameless columns too."""
    runs = taken("\n\noutcome,clock,\npass,4500,\n\n,,\n , ,\npass,4600,\n,,\n")
    assert [run.settings["clock"] for run in runs] == [4500.0, 4600.0]


def test_cells_may_hold_what_parts_cells() -> None:
    """Quoted, as RFC 4180 section 2 has it: separators, quotes, a heading with brackets."""
    (run,) = taken('outcome,clock,note,"sub pack [a]"\r\npass,4500,"a, ""b""; c",7\r\n')
    assert run.note == 'a, "b"; c'
    assert run.subscores == {"pack [a]": 7.0}


def test_the_case_of_words_does_not_matter() -> None:
    """Spreadsheets and people write Pass and TRUE."""
    (run,) = taken("outcome,clock,cold,boot\nPass,4500,TRUE,3\n")
    assert (run.outcome, run.cold) == ("pass", True)


def test_a_column_may_be_split_over_units() -> None:
    """Where a reading was told without a unit before the study knew it, each row has one of two."""
    headings = "outcome,clock,reading room,reading room [C]"
    first, second = taken(f"{headings}\npass,4500,20,\npass,4500,,21\n")
    assert (first.readings["room"], second.readings["room"]) == (20.0, 21.0)


def test_knobs_that_are_not_named_are_at_stock_and_counted() -> None:
    """Not as the run before left them."""
    study = Study.create(lab())
    study.record("pass", settings={"clock": 4800, "volts": 1.1, "ratio": 50})
    plan = planned(study, "outcome,clock,volts\npass,4500,\npass,4600,1.25\n")
    assert plan.at_stock == {"volts": 1, "ratio": 2, "mode": 2}
    assert [run.settings["volts"] for run in plan.runs] == [1.2, 1.25]
    assert [run.settings["ratio"] for run in plan.runs] == [40.0, 40.0]


def test_off_the_steps_and_above_ceilings_is_recorded() -> None:
    """It happened; the gate still forbids to propose it."""
    (run,) = taken("outcome,clock,volts\npass,4533.3,1.9\n")
    assert (run.ran["clock"], run.ran["volts"]) == (4533.3, 1.9)


def test_columns_that_follow_from_others_are_passed_over() -> None:
    """Derived values, whoever reckoned them, and what the study tells of itself."""
    text = "outcome,clock,fabric,derived gone [W],amended,proposed,at_own_risk,definition\n"
    (run,) = taken(text + "pass,4500,1,2,3,yes,volts,4\n")
    assert (run.amended, run.asked) == (0, None)
