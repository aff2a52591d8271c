"""The gap table: where the score stands, each score to beat, and what would close the gap."""

from math import isinf

from planner.domain.combining import Combining
from planner.domain.definition import Definition
from planner.domain.quantity import format_number
from planner.models.scores.answering import Answering
from planner.models.scores.closing import KnobGap, PartGap
from planner.models.scores.composite import Composite
from planner.models.scores.gap import GapTable, Target
from planner.models.scores.scored import score_of
from planner.report.text import phrases
from planner.report.text.layout import labelled, prose

_SURE = 0.05
"""Boots are said to differ where chance alone gives so much less often."""
Rows = list[tuple[str, str]]


def gap_text(definition: Definition, table: GapTable, width: int) -> str:
    """The whole table."""
    lines = prose(f"Gap of {definition.goal.name}: {table.workload}", width)
    rows = standing_rows(definition, table) + response_rows(definition, table)
    lines += ["", *labelled(rows, width)]
    for target in table.targets:
        lines += ["", *prose(target_title(target), width)]
        lines += [
            "  " + line for line in labelled(target_rows(definition, table, target), width - 2)
        ]
    if not table.targets:
        text = (
            "No score to beat is given: add beat = { mine = 2400 } to [[workload]], or --beat 2400."
        )
        lines += ["", *prose(text, width)]
    return "\n".join(lines)


def points(value: float) -> str:
    """A score or a difference of scores to what matters of it."""
    return format_number(float(f"{value:.6g}"))


def spread(value: float) -> str:
    """A difference or a standard deviation to three digits."""
    return format_number(float(f"{value:.3g}"))


def standing_rows(definition: Definition, table: GapTable) -> Rows:
    """Where the score stands: the best, the noise, how it is made of its sub-scores."""
    best, here = table.best, table.here
    where = phrases.setting(definition, best.ran)
    rows = [("Best", f"{points(score_of(best))} in run {best.number}: {where}")]
    if here.count > 1:
        rows.append(("", f"mean of {here.count} runs there {points(here.mean)}"))
    rows.append(("Noise", _noise(table)))
    if here.hangs_together:
        rows.append(("", hanging(here.count, here.effective)))
    if table.boots is not None and table.boots < _SURE:
        text = "boots differ more than runs of one boot do: repeat over several boots"
        rows.append(("", f"{text} ({_percent(table.boots)} by chance alone)"))
    if (drift := table.drift) is not None:
        way = "higher" if drift.share > 0 else "lower"
        text = f"since run {drift.since} repeats score {abs(drift.share):.2%} {way} than before it"
        rows.append(("Drift", f"{text}: look for heat, the room, other programs; then repeat"))
    return [*rows, *_composite_rows(table)]


def _percent(chance: float) -> str:
    return "under 0.1%" if chance < 0.001 else f"{chance:.1%}"


def hanging(count: int, effective: float) -> str:
    """That repeats are alike because they follow each other."""
    return (
        f"these {count} runs hang together (drift or warming up): they are worth {effective:.1f}"
        " independent ones"
    )


def _noise(table: GapTable) -> str:
    if table.noise is None:
        return "not known: run a setting twice, and score both"
    deviation, freedom = table.noise
    share = f" ({deviation / table.here.mean:.2%})" if table.here.mean else ""
    repeats = phrases.counted(freedom, "repeat")
    return f"runs of one setting differ by {spread(deviation)}{share}, by {repeats}"


def _composite_rows(table: GapTable) -> Rows:
    composite = table.composite
    if isinstance(composite, str):
        return [("Made of", f"not known: {composite}")]
    rows = [("Made of", _rule(composite))]
    if composite.told:
        if composite.runs:
            rows.append(
                (
                    "",
                    f"as study.toml has it; misses the totals by {spread(composite.misfit)} points",
                )
            )
    else:
        rows.append(
            (
                "",
                f"fitted from {composite.runs} runs; misses a run left out by"
                f" {spread(composite.misfit)} points",
            )
        )
        if composite.others:
            rows.append(("", f"not told apart yet from: {', '.join(composite.others)}"))
    if table.pulls:
        shares = ", ".join(f"{name} {pull:.0%}" for name, pull in table.pulls.items())
        rows.append(("Pull", f"{shares} of a small change of the total"))
    return rows


def _rule(composite: Composite) -> str:
    weights = []
    for name, weight in composite.weights.items():
        error = composite.errors.get(name)
        shown = format_number(float(f"{weight:.3g}"))
        if error is not None:
            shown += " (no run tells)" if isinf(error) else f" +/- {spread(error)}"
        weights.append(f"{name} {shown}")
    kind = "sum" if composite.rule is Combining.SUM else f"{composite.rule} mean"
    return f"weighted {kind}: {', '.join(weights)}"


def response_rows(definition: Definition, table: GapTable) -> Rows:
    """What one step of each knob gives."""
    response = table.response
    if isinstance(response, str):
        return [("Moved by", f"not known: {response}")]
    return [("Moved by", "; ".join(_slopes(definition, response)))]


def _slopes(definition: Definition, response: Answering) -> list[str]:
    """Each knob that moves the score, then the names of those that may not."""
    said = []
    for slope in response.slopes:
        if not slope.known:
            continue
        knob = definition.knobs[slope.knob]
        assert knob.grid is not None, slope.knob
        harder = knob.at_hardness(1) - knob.at_hardness(0)
        sign = "+" if harder > 0 else "-"
        step = f"{slope.knob} {sign}{knob.show(abs(harder))}"
        said.append(f"{step} gives {slope.per_step:+.2%} +/- {slope.error:.2%}")
    unclear = [slope.knob for slope in response.slopes if not slope.known]
    return [*said, f"not told from none: {', '.join(unclear)}"] if unclear else said


def target_title(target: Target) -> str:
    """How far one score to beat is."""
    if target.gap <= 0:
        return f"{target.name}: {points(target.score)} is beaten, by {points(-target.gap)}"
    share = f"{target.gap / (target.score - target.gap):.2%}"
    return f"{target.name}: {points(target.score)} is {points(target.gap)} ({share}) above the best"


def target_rows(definition: Definition, table: GapTable, target: Target) -> Rows:
    """Whether it is noise, and what would close it."""
    rows: Rows = [("Noise", _luck(target))]
    label = "Alone"
    for part in target.parts:
        rows.append((label, _part(part)))
        label = ""
    label = "Steps"
    for knob in target.knobs:
        rows.append((label, _knob(definition, table, knob)))
        label = ""
    return rows


def _luck(target: Target) -> str:
    """What a rerun of what is there would do, without any change."""
    if target.luck is None:
        return "not known, so neither is whether luck alone reaches it"
    if target.gap <= 0:
        return f"one more run as it is comes to it with {phrases.chance(target.luck)}"
    verdict = "WITHIN NOISE" if target.within_noise else "more than noise"
    return f"{verdict}: one more run as it is reaches it with {phrases.chance(target.luck)}"


def _part(part: PartGap) -> str:
    if part.needed is None:
        return f"{part.name} cannot close it, whatever it comes to"
    rise = part.needed / part.now - 1
    return f"{part.name} from {points(part.now)} to {points(part.needed)} ({rise:+.1%})"


def _knob(definition: Definition, table: GapTable, gap: KnobGap) -> str:
    knob = definition.knobs[gap.knob]
    low, high = sorted(map(abs, gap.interval))
    way = "harder" if gap.steps > 0 else "easier"
    between = f"{low:.1f} or more" if isinf(high) else f"{low:.1f} to {high:.1f}"
    text = f"{gap.knob} {abs(gap.steps):.1f} steps {way} ({between}, 90% sure)"
    if gap.value is None:
        return f"{text}: beyond its range"
    text += f": {knob.show(gap.value)}"
    if not gap.permitted:
        return f"{text}, which may not be proposed"
    if gap.pass_probability is None:
        return f"{text}; a run there that holds beats it with {phrases.chance(gap.beats)}"
    both = gap.pass_probability * gap.beats
    text += (
        f"; {phrases.chance(gap.pass_probability)} to pass, then {phrases.chance(gap.beats)} to"
        f" beat it: {phrases.chance(both)} for one run"
    )
    return text if gap.minutes is None else f"{text} of {_tries(gap, table.minutes_left)}"


def _tries(gap: KnobGap, left: float | None) -> str:
    """The minutes of one run, and what all the minutes left are good for."""
    assert gap.minutes is not None
    text = phrases.minutes(gap.minutes)
    if left is None:
        return text
    text += f", {phrases.minutes(left)} left"
    if gap.in_time is None or gap.tries is None:
        return f"{text}: too few"
    if gap.tries == 1:
        return text
    return f"{text}: {phrases.chance(gap.in_time)} in {gap.tries} such runs"
