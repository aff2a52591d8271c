"""A strategy that asks for what is forbidden is refused: nothing is written, nothing is clamped."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

import pytest

from planner import Study
from planner.errors import ForbiddenSetting
from planner.models.edge_search import EdgeSearch
from planner.strategies import STRATEGIES, Choice
from tests.domain.makers import clock, tables, volts


@dataclass(frozen=True)
class Stubborn:
    """Asks for one value whatever it is told."""

    value: Any
    modelled: ClassVar[bool] = False

    def keep(self, search: EdgeSearch) -> float | None:
        """What the model recommends."""
        return search.recommended

    def choose(self, search: EdgeSearch) -> Choice | None:
        """That value."""
        return Choice(self.value, "because")


@pytest.fixture
def asking(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Any:
    """Makes a study on disk whose strategy asks for a value."""

    def make(value: Any, knob: dict[str, Any], *others: dict[str, Any], **more: Any) -> Study:
        monkeypatch.setitem(STRATEGIES, "stubborn", lambda: Stubborn(value))
        study = {"strategy": "stubborn", "knob": knob["name"]}
        return Study.create(tables(knob, *others, study=study, **more), tmp_path / "study")

    return make


def refused(study: Study, tmp_path: Path) -> str:
    """What `next` says; the ledger has not one byte more, and nothing is pending."""
    ledger = tmp_path / "study" / "ledger.jsonl"
    before = ledger.read_bytes()
    with pytest.raises(ForbiddenSetting) as caught:
        study.next()
    assert ledger.read_bytes() == before
    assert study.pending is None
    return str(caught.value)


@pytest.mark.parametrize(
    ("knob", "value", "said"),
    [
        (clock(everyday=4500), 4600.0, "clock = 4600 MHz is above its ceiling of 4500 MHz"),
        (clock(everyday=4500, own_risk=4800), 4800.0, "above its ceiling of 4500 MHz"),
        (clock(hard_stop=4500), 5000.0, "above its ceiling of 4500 MHz"),
        (clock(everyday=4550), 4550.0, "expected 4000 MHz to 5000 MHz in steps of 100 MHz"),
        (clock(), 5100.0, "clock = 5100 MHz: expected"),
        (clock(), 3900.0, "clock = 3900 MHz: expected"),
        (clock(), 4250.0, "clock = 4250 MHz: expected"),
        (clock(), 1e300, "expected 4000 MHz to 5000 MHz"),
        (volts(), 1.205, "volts = 1.205 V is above its ceiling of 1.2 V"),
        (volts(everyday=1.3), 1.305, "above its ceiling of 1.3 V"),
    ],
)
def test_over_a_ceiling_or_off_the_grid(
    asking: Any, tmp_path: Path, knob: dict[str, Any], value: float, said: str
) -> None:
    """`next` says what was asked for and what forbids it."""
    message = refused(asking(value, knob), tmp_path)
    assert message.startswith("the strategy asked for ")
    assert said in message


def test_at_the_ceiling_it_is_proposed_as_asked(asking: Any) -> None:
    """Not a step below; and once the risk is accepted, above everyday, marked as such."""
    study = asking(4800.0, clock(everyday=4800, own_risk=4900))
    assert study.next().settings == {"clock": 4800.0}
    assert study.next().at_own_risk == ()


def test_past_what_was_accepted(asking: Any, tmp_path: Path) -> None:
    """Own risk opens exactly the accepted part."""
    study = asking(4800.0, clock(everyday=4500, own_risk=4900))
    study.accept_risk("clock", 4799)
    assert "above its ceiling of 4799 MHz" in refused(study, tmp_path)
    study.accept_risk("clock", 4800)
    proposal = study.next()
    assert (proposal.settings, proposal.at_own_risk) == ({"clock": 4800.0}, ("clock",))


def test_a_derived_ceiling_and_a_hard_rule(asking: Any, tmp_path: Path) -> None:
    """What a value does in company counts as well."""
    derived = [{"name": "total", "unit": "GHz", "sum": ["clock"], "everyday": 4.7}]
    rules = [{"name": "r", "holds": "clock <= 4600", "kind": "hard"}]
    message = refused(asking(4800.0, clock(), derived=derived, rule=rules), tmp_path)
    assert "total = 4.8 GHz is above its ceiling of 4.7 GHz; rule r is broken" in message


def test_what_failed_to_start_or_ran_too_hot(asking: Any, tmp_path: Path) -> None:
    """Runs close settings for every strategy."""
    study = asking(4800.0, clock(), reading=[{"name": "hot", "stop": 95}])
    study.record("no-start", settings={"clock": 4800})
    assert "failed to start" in refused(study, tmp_path)
    study.amend(1, outcome="crash", readings={"hot": 96})
    assert "run 1 pushed hot past its stop" in refused(study, tmp_path)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_what_is_no_number(asking: Any, tmp_path: Path, value: float) -> None:
    """A strategy whose arithmetic went wrong is refused like any other."""
    refused(asking(value, clock()), tmp_path)
