"""Rising above an everyday ceiling: only after the caution, by a typed value."""

import json

import pytest

from tests.cli.typed import ledger, made, planner, told


def test_accepting_prints_the_caution() -> None:
    """Damage, heat, warranty and data are named before anything is written."""
    made()
    said = told("accept-risk", "volts", "--up-to", "1300mV")
    assert "own risk accepted up to 1.3 V" in said.stdout
    for word in ("Damage", "heat", "warranties", "data"):
        assert word in said.stderr


def test_without_terminal_and_value_nothing_is_accepted() -> None:
    """Exit code 4, and the ledger is as before."""
    folder = made()
    before = ledger(folder)
    asked = planner("accept-risk", "volts")
    assert asked.exit_code == 4
    assert "--up-to" in asked.stderr
    assert ledger(folder) == before


def test_on_a_terminal_the_value_is_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A yes is not enough: only the value counts."""
    monkeypatch.setattr("planner.cli.accept_risk.interactive", lambda: True)
    folder = made()
    before = ledger(folder)
    assert planner("accept-risk", "volts", typed="yes\n").exit_code == 2
    assert ledger(folder) == before
    assert planner("accept-risk", "volts", typed="1.35\n").exit_code == 0
    assert ledger(folder) != before


@pytest.mark.parametrize(
    ("knob", "value", "expected"),
    [
        ("volts", "1.2", "from the everyday ceiling of 1.25 V, which takes it back, to 1.35 V"),
        ("volts", "1.36", "to 1.35 V"),
        ("volts", "nan", "expected a number in V"),
        ("volts", "1.3A", "does not match, expected V"),
        ("clock", "5000", "no own_risk ceiling"),
        ("vlots", "1.3", "expected one of volts"),
    ],
)
def test_only_the_own_risk_region_can_be_accepted(knob: str, value: str, expected: str) -> None:
    """Any other knob or value is refused, and nothing is written."""
    folder = made()
    before = ledger(folder)
    refused = planner("accept-risk", knob, "--up-to", value)
    assert refused.exit_code == 2
    assert expected in refused.stderr
    assert ledger(folder) == before


def test_accepted_risk_shows_in_every_place() -> None:
    """The two best settings stand side by side, and the ceilings carry the mark."""
    made()
    told("accept-risk", "volts", "--up-to", "1.3")
    shown = json.loads(told("show", "--json").stdout)
    accepted = {c["name"]: c["accepted_up_to"] for c in shown["ceilings"]}
    assert accepted["volts"] == 1.3
    assert shown["best_everyday"] is not None
    assert "volts: own risk accepted up to 1.3 V" in told("show").stdout
