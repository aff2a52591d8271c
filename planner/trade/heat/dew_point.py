"""The temperature below which water from the room's air settles on a surface.

Magnus form: over water from -45 to 60 °C the vapour pressure of saturation is
6.112 hPa exp(17.62 t / (243.12 + t)) at t °C, so that with the relative humidity h (a share of 1)

    g = ln h + 17.62 t / (243.12 + t),    dew point = 243.12 g / (17.62 - g)   in °C.

Source: WMO Guide to Instruments and Methods of Observation (WMO-No. 8), vol. I, annex 4.B (the
constants), from memory; Sonntag, Z. Meteorol. 40 (1990) 340. Good to about 0.4 °C.
"""

import math

_A, _B = 17.62, 243.12
COLDEST, WARMEST = -45.0, 60.0
"""°C between which the constants hold."""
MARGIN = 3.0
"""Kelvin to stay above the dew point: sensors and the room's air differ by as much from place to
place (common practice, no source)."""


def dew_point(room: float, humidity: float) -> float:
    """°C at which a surface begins to sweat, in a room of so many °C and per cent.

    Raises:
        ValueError: humidity not above 0 and at most 100 %, or a room out of the formula's range.
    """
    if not 0 < humidity <= 100:
        raise ValueError(f"humidity = {humidity:g} %: expected above 0 and at most 100")
    if not COLDEST <= room <= WARMEST:
        raise ValueError(f"room = {room:g} C: expected {COLDEST:g} to {WARMEST:g}")
    g = math.log(humidity / 100) + _A * room / (_B + room)
    return _B * g / (_A - g)
