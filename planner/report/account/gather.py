"""Gathers a report from what the ledger tells and what the study answers."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from planner.domain.knob import Knob
from planner.domain.tables import Aim
from planner.history import History
from planner.models.edge_search import EdgeSearch
from planner.models.findings import Edge, Recommendation
from planner.models.scores.gap import GapTable
from planner.report.account.learning import learnt_of
from planner.report.account.making import Blames, made_runs, told_at_the_end
from planner.report.account.nouns import Account
from planner.report.pictures.edge import joint
from planner.report.pictures.file import picture_bytes
from planner.report.pictures.picture import Prepared, Wanted
from planner.report.pictures.searched import shown_search, traced_along
from planner.report.pictures.table import PICTURES, picture_named
from planner.report.sheet.nouns import Sheet
from planner.report.written.blocks import Attached, Drawn
from planner.searching import Searching

_PICTURES: Mapping[Aim, tuple[str, ...]] = {
    Aim.FRONTIER: ("frontier", "progress", "map"),
    Aim.EDGE: ("edge", "progress", "map"),
}
"""What is drawn of a study of one knob, by its aim."""
_OF_MANY = ("progress",)
"""Of all knobs; their edges are drawn from those that are worked out already."""


def account_of(
    history: History,
    sheet: Sheet,
    best: Recommendation,
    edges: Mapping[str, Edge],
    blames: Blames,
    gap: GapTable | None,
    version: str,
) -> Account:
    """The report of a study as it stands.

    `edges`: of its knobs; `blames`: of the failed runs of a search over many knobs; `gap`: to
    the scores to beat; `version`: the planner's.
    """
    search = shown_search(history) if history.definition.goal.aim.one_knob else None
    along = traced_along(history)
    return Account(
        history=history,
        sheet=replace(sheet, attached=tuple(map(_unshown, sheet.attached))),
        best=best,
        version=version,
        made=made_runs(history, search, blames),
        told_last=told_at_the_end(history),
        learnt=learnt_of(history, best.settings, edges, blames),
        followed=None if search is None else search.knob,
        beside="" if search is None else _beside(search, along),
        gap=gap,
        drawn=_drawn(history, edges, best),
    )


def _unshown(file: Attached) -> Attached:
    """A picture of the planner's own is drawn anew in the report: it is listed only."""
    return replace(file, content=None) if Path(file.name).stem in PICTURES else file


def _beside(search: EdgeSearch, along: Knob | None) -> str:
    if along is None:
        return ""
    return f"at {along.name} {along.show(search.base[along.name])}"


def _drawn(history: History, edges: Mapping[str, Edge], best: Recommendation) -> tuple[Drawn, ...]:
    """The pictures that the runs give."""
    prepared: list[Prepared] = []
    answers = Searching()
    for name in _PICTURES.get(history.definition.goal.aim, _OF_MANY):
        picture = picture_named(name)
        if not picture.lacks(history, Wanted()):
            prepared.append(picture.prepare(history, Wanted(), answers))
    if not history.definition.goal.aim.one_knob:
        prepared.append(joint.prepared_of(history, edges, best))
    return tuple(Drawn(p.title, p.alternative, picture_bytes(p, ".svg")) for p in prepared)
