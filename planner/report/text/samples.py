"""What several samples of like parts tell, side by side."""

from collections.abc import Mapping, Sequence
from math import hypot

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob
from planner.peak.samples import SampleEdge, Spread
from planner.report.text.layout import columns, prose, widest


def samples_text(
    definition: Definition,
    samples: Mapping[str, Mapping[str, SampleEdge]],
    spreads: Mapping[str, Spread],
    width: int,
) -> str:
    """Each knob's edge in each study, how it ranks, and where the next sample's probably lies."""
    if not spreads:
        return "\n".join(prose("No run of these studies moved a knob that can fail.", width))
    lines = prose("Edges of each sample, supports and data rate at stock.", width)
    for name, spread in spreads.items():
        knob = definition.knobs[name]
        told = {study: edges[name] for study, edges in samples.items() if name in edges}
        rows = [_row(knob, study, edge, list(told.values())) for study, edge in told.items()]
        low, high = spread.expected
        rows.append(
            ("the next", f"{knob.show(_rounded(knob, spread.mean))}", _between(knob, low, high))
        )
        table = columns(rows, right=(1,))
        if widest(table) > width - 2:
            table = columns([(study, edge) for study, edge, _ in rows], right=(1,))
        lines += ["", name, *("  " + line for line in table)]
    return "\n".join(lines)


def _row(
    knob: Knob, study: str, edge: SampleEdge, every: Sequence[SampleEdge]
) -> tuple[str, str, str]:
    """Better is said only beyond what the two are unsure of."""
    others = len(every) - 1
    sign = -1 if knob.harder is Harder.DOWN else 1
    beaten = sum(
        sign * (edge.mean - other.mean) > hypot(edge.sd, other.sd)
        for other in every
        if other is not edge
    )
    rank = f"better than {beaten} of {others}" if others else ""
    shown = f"{knob.show(_rounded(knob, edge.mean))} +- {_rounded(knob, edge.sd):g}"
    return study, shown, rank


def _between(knob: Knob, low: float, high: float) -> str:
    return f"80%: {_rounded(knob, low):g} to {knob.show(_rounded(knob, high))}"


def _rounded(knob: Knob, value: float) -> float:
    """To a tenth of a step."""
    assert knob.grid is not None
    tenth = knob.grid.step / 10
    return float(f"{round(value / tenth) * tenth:.10g}")
