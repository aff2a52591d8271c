"""An evening at the bench, command by command."""

import json

import pytest

from planner.cli.new import Template, template_text
from planner.domain.outcome import Outcome
from planner.domain.parse import parse_text
from tests.cli.typed import ledger, made, planner, told


@pytest.mark.parametrize("template", Template)
def test_a_template_leads_to_a_first_proposal(template: Template) -> None:
    """From any template a stock run as it is gives a proposal, with nothing edited."""
    told("new", "box", "--template", template)
    told("record", "pass", "--as-is")
    first = told("next")
    assert "Run 2 of box" in first.stdout
    assert "planner record pass" in first.stdout


@pytest.mark.parametrize("template", Template)
def test_a_template_raises_no_voltage(template: Template) -> None:
    """Its ceilings are left blank: whatever lifts a voltage stays at or under stock."""
    definition = parse_text(template_text(template, "box"))
    lifting = [k for k in definition.knobs.values() if k.lifts_voltage]
    assert all(not k.ceilings.given for k in lifting)
    assert all(definition.guarded[k.name].last == k.stock for k in lifting)
    assert bool(lifting) == (template is not Template.EMPTY)


def test_new_says_once_what_to_do_first() -> None:
    """The list before the first run is printed by `new` and by no command after it."""
    assert "Back up your data" in told("new", "box").stderr
    assert "Back up" not in told("check").output + told("next").output + told("show").output


def test_next_asked_twice_is_the_same() -> None:
    """A proposal stays until it is answered, and asking again writes nothing."""
    folder = made()
    first = told("next").stdout
    before = ledger(folder)
    assert told("next").stdout == first
    assert ledger(folder) == before


def test_an_edit_that_forbids_the_pending_run_withdraws_it() -> None:
    """The edit is taken over, and both are said beside the new proposal."""
    folder = made()
    asked = json.loads(told("next", "--json").stdout)["proposal"]["settings"]["clock"]
    text = (folder / "study.toml").read_text(encoding="utf-8")
    lower = text.replace("stock = 4200", f"stock = 4200\neveryday = {asked - 50}", 1)
    (folder / "study.toml").write_text(lower, encoding="utf-8")
    again = told("next")
    assert "study.toml was edited: taken over" in again.stderr
    assert "Run 1 is withdrawn" in again.stderr
    assert "Run 2 of box" in again.stdout


def test_record_answers_the_pending_run() -> None:
    """The confirmation repeats number, outcome, time and setting."""
    made()
    asked = json.loads(told("next", "--json").stdout)["proposal"]
    said = told("record", "crash", "--failed-after", "85s").stdout
    assert f"Run {asked['run']} recorded: crash after 85 s; clock" in said
    assert f"{asked['settings']['clock']:g} MHz" in said


@pytest.mark.parametrize("outcome", Outcome)
def test_every_outcome_can_be_recorded(outcome: Outcome) -> None:
    """Each with the fact that it needs, if it needs one."""
    made()
    told("next")
    needed = {"errors": ["--errors", 2], "stopped": ["--run-minutes", "4.5"]}
    said = told("record", outcome, *needed.get(outcome, [])).stdout
    assert said.startswith(f"Run 1 recorded: {outcome}")


def test_own_run_takes_values_with_units() -> None:
    """--set makes a run of one's own; units of the same dimension are converted."""
    made()
    told("record", "pass", "--set", "clock=4.5GHz", "--set", "volts=1210mV", "--score", "1234.5")
    run = json.loads(told("show", "--json").stdout)["runs"][0]
    assert run["ran"] == {"clock": 4500, "volts": 1.21, "ratio": 40}
    assert (run["score"], run["proposed"]) == (1234.5, False)


def test_high_values_are_recorded_and_flagged() -> None:
    """What lies above a ceiling or past a stop is taken down as it happened, and said so."""
    made()
    said = told(
        "record", "pass", "--set", "volts=1.3V", "--reading", "hotspot=97C", "--reading", "room=24"
    ).stdout
    assert "volts 1.3 V is above the everyday ceiling (recorded, not refused)" in said
    assert "hotspot 97 C is past its stop of 95 C" in said
    assert "PAST THE HARD STOP" in told("record", "pass", "--set", "volts=1.4").stdout


def test_amend_mends_and_void_strikes() -> None:
    """An amendment changes what counts, void takes the run out of the minutes spent."""
    made()
    told("record", "pass", "--as-is", "--score", "100")
    assert "Run 1 amended: your own run, crash" in told("amend", 1, "crash").stdout
    assert "void" in told("amend", 1, "--outcome", "void").stdout
    shown = json.loads(told("show", "--json").stdout)
    assert (shown["minutes"]["spent"], shown["runs"][0]["score"]) == (0, None)
    assert shown["minutes"]["void"] > 0


def test_amend_mends_what_was_set() -> None:
    """A value typed wrong is put right, the others stay as the machine held them."""
    made()
    told("record", "pass", "--set", "clock=4500")
    assert "clock 4400 MHz" in told("amend", 1, "--set", "clock=4.4GHz").stdout


def test_amend_takes_a_fact_back() -> None:
    """--clear removes what was said by mistake."""
    made()
    told("record", "pass", "--as-is", "--score", "100", "--note", "warm room")
    told("amend", 1, "--clear", "score", "--clear", "note")
    run = json.loads(told("show", "--json").stdout)["runs"][0]
    assert (run["score"], run["note"]) == (None, "")


def test_close_gives_a_verdict_and_reopen_goes_on() -> None:
    """Closed means exit code 3 with the reason and the way back; reopened it proposes again."""
    made()
    assert "nothing pays any more" in told("close", "--reason", "nothing pays any more").stdout
    closed = planner("next")
    assert closed.exit_code == 3
    assert "nothing pays any more" in closed.stdout
    assert "planner reopen" in closed.stdout
    told("reopen")
    told("next")


def test_spent_minutes_end_the_evening() -> None:
    """When the bench minutes are spent the way on is study.toml, not reopen."""
    folder = made()
    told("record", "pass", "--as-is")
    text = (folder / "study.toml").read_text(encoding="utf-8")
    (folder / "study.toml").write_text(text.replace("[study]", "[study]\nminutes = 5"), "utf-8")
    spent = planner("next")
    assert spent.exit_code == 3
    assert "raise minutes = 5 in study.toml" in spent.stdout


def test_changed_and_boot_are_noted() -> None:
    """Both are confirmed; a cold boot shows in the runs after it."""
    made()
    told("changed", "new firmware", "--group", "core")
    assert "cold boot" in told("boot", "cold").stdout
    told("record", "pass", "--as-is")
    assert json.loads(told("show", "--json").stdout)["runs"][0]["cold"] is True


def test_show_lists_the_last_runs_unless_asked_for_all() -> None:
    """Fifteen runs by default, with the way to see the others."""
    made()
    for _ in range(17):
        told("record", "pass", "--as-is")
    assert "2 earlier runs: planner show --all" in told("show").stdout
    assert "earlier runs" not in told("show", "--all").stdout


def test_no_start_reminds_of_the_firmware() -> None:
    """After a failure to start the next proposal says that settings may be gone."""
    made()
    told("next")
    told("record", "no-start")
    assert "firmware may be back at stock" in told("next").stdout
