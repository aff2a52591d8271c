"""Everything that readings forbid, in one place for the gate."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.quantity import format_number, with_unit
from planner.forecast.cold import Floor, cold_objections, floors_of
from planner.forecast.readings import LIKELY, Predicted, ReadingForecast, forecasts_of
from planner.history import History


@dataclass(frozen=True)
class Outlook:
    """Forecast readings and floors of what cools the machine."""

    definition: Definition
    forecasts: tuple[ReadingForecast, ...] = ()
    """Of readings that have a stop."""
    floors: tuple[Floor, ...] = ()

    @property
    def forbids(self) -> bool:
        """Whether there is anything that could forbid a setting."""
        return bool(self.forecasts or self.floors)

    def objections(self, setting: Mapping[str, Value]) -> list[str]:
        """Why a setting should not be proposed, in words; empty where nothing forbids it."""
        found = cold_objections(self.definition, self.floors, setting)
        for forecast in self.forecasts:
            predicted = forecast.at(setting)
            if predicted.past_stop > LIKELY:
                found.append(past_stop_words(forecast, predicted))
        return found


def outlook_of(history: History) -> Outlook:
    """What the runs so far forbid."""
    stopped = tuple(f for f in forecasts_of(history) if f.reading.stop is not None)
    return Outlook(history.definition, stopped, floors_of(history))


def past_stop_words(forecast: ReadingForecast, predicted: Predicted) -> str:
    """That a reading would likely pass its stop."""
    reading = forecast.reading
    assert reading.stop is not None, reading.name
    low, high = (format_number(round(end)) for end in (predicted.low, predicted.high))
    return (
        f"{reading.name} would read {with_unit(round(predicted.value), reading.unit)} ({low} to"
        f" {high}) and pass its stop of {with_unit(reading.stop, reading.unit)} with"
        f" {predicted.past_stop:.0%}"
    )
