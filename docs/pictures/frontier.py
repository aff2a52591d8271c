"""Draws `frontier.png` beside this file: python docs/pictures/frontier.py, in the environment.

The rig is made up: the clock holds up to the alpha-power law, f = k (V - Vt)^a / V (T. Sakurai and
A. R. Newton, IEEE Journal of Solid-State Circuits 25(2), 1990), without chance.
"""

from pathlib import Path

from planner.report.pictures.file import write_picture
from planner.report.pictures.picture import Wanted
from planner.report.pictures.table import picture_named
from planner.searching import Searching
from planner.study import Study

THRESHOLD, ALPHA, AT_1_V = 0.35, 1.3, 3430.0
"""Vt in V, a, and the edge in MHz at 1 V."""
TABLES = {
    "study": {"name": "made-up rig", "aim": "frontier", "knob": "core_clock",
              "along": "core_voltage"},
    "rig": {"reboot_minutes": 4},
    "knob": [
        {"name": "core_clock", "unit": "MHz", "low": 2700, "high": 4500, "step": 50,
         "stock": 2700},
        {"name": "core_voltage", "unit": "V", "low": 0.9, "high": 1.35, "step": 0.05,
         "stock": 1.0, "harder": "down", "supports": ["core_clock"], "everyday": 1.25,
         "own_risk": 1.3, "hard_stop": 1.32},
    ],
    "workload": [{"name": "loop", "minutes": 5}],
}  # fmt: skip


def edge(volts: float) -> float:
    """The clock in MHz up to which every run passes."""
    return AT_1_V * ((volts - THRESHOLD) / (1 - THRESHOLD)) ** ALPHA / volts


def main() -> None:
    """Plays the whole search and draws it."""
    study = Study.create(TABLES)
    while (asked := study.next()) is not None:
        clock, volts = (float(asked.settings[name]) for name in ("core_clock", "core_voltage"))
        study.record("pass" if clock <= edge(volts) else "crash")
    drawn = picture_named("frontier").prepare(study.history, Wanted(), Searching())
    print(drawn.alternative)
    write_picture(drawn, Path(__file__).with_suffix(".png"))


if __name__ == "__main__":
    main()
