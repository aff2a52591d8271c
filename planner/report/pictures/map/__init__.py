"""What passed over two knobs: every setting that was run, with its passes and failures."""

from functools import partial
from typing import TYPE_CHECKING

from planner.history import History
from planner.report.pictures.map.data import KnobMap, knob_map
from planner.report.pictures.map.knobs import knobs_of
from planner.report.pictures.map.words import alternative, verdict
from planner.report.pictures.picture import Picture, Prepared, Wanted
from planner.searching import Searching

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def _lacks(history: History, wanted: Wanted) -> str:
    if len(history.definition.knobs) < 2:
        return "it needs two knobs, and the study has one"
    if knobs_of(history, wanted) is None:
        return "no run tells of a second knob: expected runs at two of its values, or --y KNOB"
    return ""


def _prepare(history: History, wanted: Wanted, answers: Searching) -> Prepared:
    knobs = knobs_of(history, wanted)
    assert knobs is not None, "two knobs were varied or named"
    summary = knob_map(history, *knobs, answers)
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: KnobMap) -> "Figure":
    from planner.report.pictures.map.figure import map_figure

    return map_figure(summary)


PICTURE = Picture(_lacks, _prepare)
