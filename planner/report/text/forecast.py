"""How the evening may go on, in words."""

from planner.domain.quantity import format_number
from planner.history import History
from planner.peak.forecast import Forecast
from planner.report.text.layout import columns, labelled, prose

_ROWS = 7


def forecast_text(history: History, forecast: Forecast, width: int) -> str:
    """The best score against minutes to come, and what half an hour is worth."""
    lines = prose(
        f"The best score of {history.definition.goal.name}, played on from what is known now"
        f" ({forecast.level:.0%} of the evenings lie between the outer columns)",
        width,
    )
    table = [("min", "low", "middle", "high")]
    step = max(1, (len(forecast.minutes) - 1) // _ROWS)
    for i in range(0, len(forecast.minutes), step):
        scores = (forecast.low[i], forecast.middle[i], forecast.high[i])
        low, middle, high = map(_score, scores)
        table.append((f"{forecast.minutes[i]:.0f}", low, middle, high))
    lines += ["", *("  " + line for line in columns(table, right=(0, 1, 2, 3))), ""]
    return "\n".join([*lines, *labelled(_rows(forecast), width)])


def _rows(forecast: Forecast) -> list[tuple[str, str]]:
    flat = forecast.worth + forecast.worth_sd < forecast.noise
    verdict = "gains have flattened" if flat else "worth going on"
    worth = f"{_points(forecast.worth)} points, give or take {_points(forecast.worth_sd)}"
    return [
        ("Now", f"about {_score(forecast.best)}, freed of its luck"),
        (
            "30 min",
            f"are worth {worth}, runs differ by {_points(forecast.noise)}: {verdict}",
        ),
    ]


def _score(value: float) -> str:
    return format_number(float(f"{value:.5g}"))


def _points(value: float) -> str:
    return format_number(float(f"{value:.2g}"))
