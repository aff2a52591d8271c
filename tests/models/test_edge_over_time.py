"""The edge as the runs came in: at each point what the posterior would have said then."""

from dataclasses import replace

import pytest

from planner import Study
from planner.history import History
from planner.models.edge import edge_posterior
from planner.models.edge_over_time import edge_over_time
from planner.models.edge_search import edge_search

KNOBS = [
    {"name": "clock", "group": "core", "unit": "MHz", "low": 4600, "high": 5600, "step": 25,
     "stock": 4800},
    {"name": "volts", "group": "core", "unit": "V", "low": 1.0, "high": 1.4, "step": 0.01,
     "stock": 1.2, "harder": "down", "supports": ["clock"]},
]  # fmt: skip


def told() -> History:
    """Runs at two voltages, a void one, two changes between them and one after the last."""
    made = Study.create(
        {"study": {"name": "bench"}, "knob": KNOBS, "workload": [{"name": "sums", "minutes": 5}]}
    )
    story = [(4800, 1.2, "pass"), (5300, 1.2, "crash"), (5000, 1.2, "void"), (5100, 1.2, "pass")]
    story += [(5250, 1.2, "crash"), (5150, 1.1, "pass"), (5200, 1.2, "pass")]
    for place, (clock, volts, outcome) in enumerate(story):
        if place in (2, 5):
            made.changed(f"firmware {place}", ["core"] if place == 2 else [])
        made.record(outcome, settings={"clock": clock, "volts": volts})
    made.changed("another mount")
    return made.history


@pytest.mark.parametrize("most", [3, 60])
def test_each_point_is_the_posterior_of_then(most: int) -> None:
    """Of the runs up to it, faded by the changes told up to it, by today's definition."""
    history = told()
    search = edge_search(history)
    assert search is not None
    evidence = history.evidence
    known = edge_over_time(history, search.knob, search.base, most)
    for point in known:
        last = evidence[point.runs - 1].epoch if point.runs else 0
        epoch = len(history.changes) if point is known[-1] else last
        then = replace(history, runs=evidence[: point.runs], changes=history.changes[:epoch])
        posterior = edge_posterior(then, search.knob, search.base)
        assert point.interval == pytest.approx(posterior.interval(), abs=1e-6)
        assert point.median == pytest.approx(posterior.quantile(0.5), abs=1e-6)


def test_points_are_every_run_or_so_many() -> None:
    """The first is before any run, the last is now; those before a change are kept."""
    history = told()
    search = edge_search(history)
    assert search is not None

    def runs(most: int) -> list[int]:
        return [k.runs for k in edge_over_time(history, search.knob, search.base, most)]

    assert runs(60) == [0, 1, 2, 3, 4, 5, 6]
    assert runs(2) == [0, 2, 3, 4, 6]
