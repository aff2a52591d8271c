"""The same explanation for programs."""

from typing import Any

from planner.report.text.timing.explained import Explained, explained_rows, sentences
from planner.trade.timing.clocks import nanoseconds
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.pace import peak_gigabytes, waits
from planner.trade.timing.refresh import refresh_interval_ps, refresh_share
from planner.trade.timing.relations import bindings
from planner.trade.timing.timings import Timings


def explained_document(explained: Explained) -> dict[str, Any]:
    """For `timing explain --json`."""
    timings = explained.timings
    return {
        "of": explained.title,
        **_timings(timings),
        "clock_ns": nanoseconds(1, timings.rate),
        "peak_gb_per_s": peak_gigabytes(timings.rate),
        "waits_ns": {
            case: nanoseconds(count, timings.rate)
            for case, count in waits(dict(timings.clocks)).items()
        },
        "rules": [
            {
                "name": found.relation.name,
                "holds": found.relation.holds.text,
                "sides": [found.set_clocks, found.sum_clocks],
                "kept": not found.by_sum,
                "binding_clocks": found.clocks,
            }
            for found in bindings(timings.clocks)
        ],
        "refresh_share": _share(timings),
        "below_standard": [
            {"timing": name, "clocks": timings.clocks[name], "standard_clocks": least}
            for name, least in timings.below_standard()
        ],
        "at": None if explained.moved is None else _timings(explained.moved),
        "sentences": sentences(explained_rows(explained)),
    }


def _timings(timings: Timings) -> dict[str, Any]:
    return {
        "standard": timings.standard.value,
        "data_rate": timings.rate,
        "timings": {
            name: {
                "clocks": count,
                "ns": timings.ns(name),
                "scales_with_time": TIMINGS[name].is_time,
            }
            for name, count in timings.clocks.items()
        },
    }


def _share(timings: Timings) -> float | None:
    if "tRFC" not in timings.clocks:
        return None
    told = "tREFI" in timings.clocks
    due = timings.ns("tREFI") if told else refresh_interval_ps(timings.standard) / 1000
    return refresh_share(timings.ns("tRFC"), due)
