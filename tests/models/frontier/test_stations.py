"""Where a frontier is known: the values of the second knob, and which of them are asked about."""

import pytest

from planner import Study
from planner.errors import DefinitionError
from planner.models.frontier.search import frontier_search
from planner.models.frontier.stations import ASKED, Stations
from tests.models.frontier.bench import definition


def stations(study: Study) -> Stations:
    """Those of a study as it stands."""
    search = frontier_search(study.history)
    assert search is not None
    return search.stations


def test_everyday_values_are_asked_about_and_own_risk_is_only_drawn():
    """Up to 1.2 V is asked; what lies above is drawn and not asked until the risk is accepted."""
    study = Study.create(definition())
    found = stations(study)
    assert max(found.asked) == 1.2
    assert max(found.values) == 1.3
    study.accept_risk("volts", 1.25)
    assert max(stations(study).asked) == pytest.approx(1.2)
    study.accept_risk("volts", 1.3)
    assert max(stations(study).asked) == 1.3


def test_accepting_a_risk_moves_no_station():
    study = Study.create(definition())
    before = stations(study).values
    study.accept_risk("volts", 1.3)
    assert stations(study).values == before


def test_stations_run_from_the_hardest_to_the_easiest():
    """Up a voltage, down a clock."""
    assert list(stations(Study.create(definition())).values) == sorted(
        stations(Study.create(definition())).values
    )
    turned = definition()
    turned["study"] |= {"knob": "volts", "along": "clock"}
    values = stations(Study.create(turned)).values
    assert list(values) == sorted(values, reverse=True)


def test_a_value_that_was_run_joins_and_spacing_stands():
    """Also off the grid: distances are told in spacings."""
    study = Study.create(definition())
    study.record("pass", settings={"clock": 80, "volts": 0.93})
    found = stations(study)
    assert 0.93 in found.values
    assert 0.93 not in found.asked
    assert sum(found.gaps) == pytest.approx((1.3 - 0.6) / (0.05 * found.spacing))


def test_a_wide_range_has_few_stations():
    wide = definition()
    wide["knob"][1] |= {"step": 0.005}
    found = stations(Study.create(wide))
    assert len(found.asked) <= ASKED + 1
    assert {0.6, 1.2} <= found.asked


def test_a_second_knob_is_needed():
    """The message names the key and what was expected."""
    study = Study.create(definition(along=""))
    with pytest.raises(DefinitionError, match=r"along.*second knob"):
        study.next()
    with pytest.raises(DefinitionError, match=r"along.*second knob"):
        study.frontier()
