"""Dew points against steam tables, which know nothing of Magnus' formula."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.heat.dew_point import dew_point

SATURATED = {5: 0.8726, 10: 1.2282, 15: 1.7058, 20: 2.3393, 25: 3.1699, 30: 4.2470, 35: 5.6290}
"""kPa of saturated water vapour at so many °C: steam tables (IAPWS-IF97), from memory."""


@pytest.mark.parametrize("room", SATURATED)
@pytest.mark.parametrize("dew", SATURATED)
def test_vapour_of_the_steam_tables(room: int, dew: int) -> None:
    """Air holding what saturates it at `dew` sweats there, within 0.1 °C."""
    if dew <= room:
        humidity = 100 * SATURATED[dew] / SATURATED[room]
        assert dew_point(room, humidity) == pytest.approx(dew, abs=0.1)


@given(st.floats(-20, 50), st.floats(1, 99))
def test_it_lies_under_the_room_and_rises_with_both(room: float, humidity: float) -> None:
    """At 100 % it is the room itself."""
    dew = dew_point(room, humidity)
    assert dew < room
    assert dew < dew_point(room, humidity + 1)
    assert dew < dew_point(room + 1, humidity)
    assert dew_point(room, 100) == pytest.approx(room)


@pytest.mark.parametrize(("room", "humidity"), [(20, 0), (20, 101), (90, 50), (-60, 50)])
def test_nonsense_is_refused(room: float, humidity: float) -> None:
    """Humidity is in per cent; a share of 0.5 would pass for very dry air, 0 for none."""
    with pytest.raises(ValueError, match="expected"):
        dew_point(room, humidity)
