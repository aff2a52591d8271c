"""Where each knob of a search over many stops holding, the others as in the setting to keep."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.report.pictures.edge.joint.data import JointEdges, joint_edges
from planner.report.pictures.edge.joint.words import alternative, verdict
from planner.report.pictures.picture import Prepared
from planner.searching import Searching

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def prepared(history: History, answers: Searching) -> Prepared:
    """The picture, worked out from the runs."""
    best = answers.recommendation(history, everyday_only=False)
    return prepared_of(history, answers.edges(history), best)


def prepared_of(history: History, edges: Mapping[str, Edge], best: Recommendation) -> Prepared:
    """The picture of edges that are worked out already."""
    summary = joint_edges(history, edges, best)
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: JointEdges) -> "Figure":
    from planner.report.pictures.edge.joint.figure import joint_figure

    return joint_figure(summary)
