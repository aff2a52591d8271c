"""The summary of a study."""

from collections.abc import Mapping

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number
from planner.history import History
from planner.models.findings import Edge
from planner.report.text import phrases
from planner.report.text.best import evidence_rows
from planner.report.text.broken_notes import news_of_notes
from planner.report.text.ceilings import ceiling_lines
from planner.report.text.frontier import frontier_lines
from planner.report.text.layout import columns, labelled, prose, widest
from planner.report.text.outlook import barred_rows, expected_rows
from planner.report.text.runs import run_lines
from planner.report.text.standing import Standing, short_head, void_minutes


def standing_text(standing: Standing, last: int, suffix: str, width: int) -> str:
    """The summary; `last`: how many runs are listed."""
    history = standing.history
    definition = history.definition
    title = f"{definition.goal.name}: {definition.goal.aim}"
    if definition.searched is not None and definition.goal.aim.one_knob:
        title += f" of {definition.searched.name}"
    if standing.frontier is not None:
        title += f" along {standing.frontier.along}"
    readings = _reading_rows(standing)
    sections = [
        prose(title, width),
        labelled(_advice(standing, suffix), width),
        _edge_lines(standing, width)
        if standing.frontier is None
        else frontier_lines(definition, standing.frontier, width),
        ["Runs", *run_lines(history, last, suffix, width)],
        ["Ceilings", *ceiling_lines(history, width)],
        *([labelled(readings, width)] if readings else []),
        labelled(
            [("Minutes", minutes_text(standing.history)), ("Ledger", _ledger(standing))], width
        ),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections)


def _advice(standing: Standing, suffix: str) -> list[tuple[str, str]]:
    history = standing.history
    definition = history.definition
    rows = evidence_rows(definition, standing.best)
    if standing.best.holds:
        rows += _note_rows(definition, "the setting to keep", standing.best.settings)
    if standing.everyday is not None and standing.everyday.settings != standing.best.settings:
        rows += evidence_rows(definition, standing.everyday, "Everyday")
    benches = len({run.bench for run in history.runs} | {*history.pending}) > 1
    for bench, proposal in history.pending.items():
        where = phrases.setting(definition, proposal.settings)
        at = f" on {bench}" if benches else ""
        rows.append(("Pending", f"run {proposal.number}{at}: {where}; no answer yet"))
        rows += _note_rows(definition, "the pending run", proposal.settings)
    if history.closed:
        rows.append(("Closed", f"{history.closed}. To go on: planner reopen{suffix}"))
    elif standing.closing:
        rows.append(("Stop", f"{standing.closing}. To go on all the same: planner reopen{suffix}"))
    else:
        rows.append(("Go on", f"planner next{suffix}"))
    return rows


def _note_rows(
    definition: Definition, what: str, setting: Mapping[str, Value]
) -> list[tuple[str, str]]:
    notes = news_of_notes(definition, setting)
    return [("Note", f"{what} breaks {'; '.join(notes)}")] if notes else []


def _reading_rows(standing: Standing) -> list[tuple[str, str]]:
    """What readings should come to at the setting to keep, and what they forbid beside it."""
    history, best = standing.history, standing.best
    return expected_rows(history, best.settings) + barred_rows(history, best.settings)


def _edge_lines(standing: Standing, width: int) -> list[str]:
    """One line a knob; the searched one first."""
    rows = edge_rows(standing)
    lines = columns(rows, right=(3,))
    if widest(lines) > width:
        lines = [f"Edges, {rows[0][2]}"]
        for name, at, between, runs in rows[1:]:
            lines += [f"  {name} {at}", f"    {between}, runs: {runs}"]
    return lines + [line for text in edge_shapes(standing) for line in prose(text, width)]


def edge_rows(standing: Standing) -> list[tuple[str, str, str, str]]:
    """Headings, then each knob's edge, its interval and its runs; the searched one first."""
    searched = standing.history.definition.searched
    first = searched.name if searched else ""
    edges = sorted(standing.edges.values(), key=lambda edge: edge.knob != first)
    head = ("Edge of", "at", f"{edges[0].level:.0%} sure between", "runs")
    return [head, *(_edge_row(standing, edge) for edge in edges)]


def edge_shapes(standing: Standing) -> list[str]:
    """A sentence on the searched knob's edge; none before a run tells."""
    searched = standing.history.definition.searched
    edge = standing.edges.get(searched.name) if searched else None
    return [_shape(edge)] if edge is not None and edge.runs else []


def _edge_row(standing: Standing, edge: Edge) -> tuple[str, str, str, str]:
    if not edge.runs:
        return edge.knob, "unknown", "no run tells yet", "0"
    knob = standing.history.definition.knobs[edge.knob]
    at, low, high = (_within(knob, value) for value in (edge.value, *edge.interval))
    return edge.knob, at, f"{low} and {high}", str(edge.runs)


def _within(knob: Knob, value: float) -> str:
    """The value, or that it lies out of the knob's range."""
    assert knob.grid is not None, knob.name
    if value > knob.grid.high:
        return f"over {knob.show(knob.grid.high)}"
    if value < knob.grid.low:
        return f"under {knob.show(knob.grid.low)}"
    return knob.show_at(knob.hardness(value))


def _shape(edge: Edge) -> str:
    text = f"{edge.target:.0%} of nominal runs pass at the edge"
    if edge.beyond_hard > 0.05:
        text += f"; {edge.beyond_hard:.0%} likely that the whole range holds"
    if edge.beyond_easy > 0.05:
        text += f"; {edge.beyond_easy:.0%} likely that nothing in range holds"
    return text + "."


def minutes_text(history: History) -> str:
    """The minutes that are spent, of how many."""
    available = history.definition.goal.minutes
    text = f"{format_number(round(history.minutes_spent, 1))} spent"
    if available is not None:
        text += f" of {format_number(available)}"
    void = [run for run in history.runs if run.outcome is Outcome.VOID]
    if void:
        text += (
            f"; {format_number(round(void_minutes(history), 1))} more on"
            f" {phrases.counted(len(void), 'void run')}"
        )
    return text


def _ledger(standing: Standing) -> str:
    entries = phrases.counted(standing.head.seq, "entry", "entries")
    return f"{entries}, head {short_head(standing.head)}"
