"""A data rate takes its timings along, a base clock its ratios: as hard as they were, no harder."""

from itertools import product
from typing import Any

import numpy as np

from planner import Study
from planner.peak.following import followed
from planner.peak.search import peak_search
from planner.peak.space import Space


def space_of(*knobs: dict[str, Any], **tables: Any) -> Space:
    """The space of a peak attempt over these knobs."""
    workload = {"name": "loop", "minutes": 5, "scored": True}
    given = {"study": {"aim": "peak"}, "knob": list(knobs), "workload": [workload], **tables}
    return peak_search(Study.create(given).history).space


def memory() -> Space:
    """A data rate, a timing that is felt in ns, and one that stays in clocks."""
    rate = {"name": "memory_rate", "unit": "MT/s", "low": 5600, "high": 8000, "step": 100}
    timing = {"name": "tCL", "unit": "clocks", "low": 24, "high": 60, "step": 1, "stock": 36}
    command = {"name": "tCR", "unit": "clocks", "low": 1, "high": 3, "step": 1, "stock": 2}
    shared = {"group": "memory", "harder": "down"}
    return space_of({**rate, "stock": 6000, "group": "memory"}, timing | shared, command | shared)


def test_a_timing_keeps_its_time_as_nearly_as_clocks_allow() -> None:
    """Time is clocks x 2000 / rate (JESD79-5): no shorter than it was, and by less than a clock."""
    space = memory()
    beside = space.rows([space.base])[0]
    rows = np.array(list(product(*map(range, space.sizes))), np.intp)
    for row, after in zip(
        space.settings(rows), space.settings(followed(space, rows, beside)), strict=True
    ):
        before = float(row["tCL"]) * 2000 / float(space.base["memory_rate"])
        now = float(after["tCL"]) * 2000 / float(after["memory_rate"])
        clock = 2000 / float(after["memory_rate"])
        within = 24 < float(after["tCL"]) < 60
        assert now >= before - 1e-9 or float(after["tCL"]) == 60
        assert now < before + clock or not within
        assert (after["memory_rate"], after["tCR"]) == (row["memory_rate"], row["tCR"])


def test_nothing_follows_what_stands_still() -> None:
    """Rows that turn no leader stay as they are."""
    space = memory()
    beside = space.rows([space.base])[0]
    rows = np.array([[beside[0], t, c] for t in range(space.sizes[1]) for c in range(3)], np.intp)
    np.testing.assert_array_equal(followed(space, rows, beside), rows)


def test_a_ratio_comes_down_as_its_base_clock_goes_up() -> None:
    """The clock that is their product stays at or under what it was."""
    base = {"name": "base_clock", "unit": "MHz", "low": 98, "high": 110, "step": 0.5, "stock": 100}
    ratio = {"name": "ratio", "low": 40, "high": 60, "step": 1, "stock": 44, "group": "core"}
    made = {"name": "clock", "unit": "MHz", "product": ["base_clock", "ratio"]}
    space = space_of(base | {"group": "board"}, ratio, derived=[made])
    (leader,) = (q for q, knob in enumerate(space.knobs) if knob.name == "base_clock")
    beside = space.rows([{**space.base, "ratio": 50.0}])[0]
    for place in range(int(beside[leader]), int(space.sizes[leader])):
        row = beside.copy()
        row[leader] = place
        (after,) = space.settings(followed(space, row[None, :], beside))
        assert float(after["ratio"]) * float(after["base_clock"]) <= 50 * 100 + 1e-6
        assert (float(after["ratio"]) + 1) * float(after["base_clock"]) > 50 * 100
