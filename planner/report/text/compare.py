"""Two settings compared: each measure with its difference, and whether it is a gain."""

from planner.domain.definition import Definition
from planner.domain.run import Run
from planner.models.scores.comparison import Comparison, Measure
from planner.report.text import phrases
from planner.report.text.gap import hanging, points, spread
from planner.report.text.layout import labelled, prose
from planner.trade.scores.spread import Sample

_MANY = 200
"""More repeats than this on a side nobody makes for a score."""


def compare_text(definition: Definition, found: Comparison, width: int) -> str:
    """The score first, then the sub-scores."""
    first, second = (_side(definition, side) for side in (found.first, found.second))
    lines = prose(f"{definition.goal.name}: {found.workload}, B against A", width)
    lines += ["", *labelled([("A", first), ("B", second)], width)]
    for measure in found.measures:
        lines += ["", *prose(_verdict(measure), width)]
        lines += ["  " + line for line in labelled(_rows(measure), width - 2)]
    if found.one_after_the_other:
        text = (
            "All runs of one side came before those of the other: what drifted in between, as the"
            " room or a boot, looks like a gain. Take turns."
        )
        lines += ["", *prose(text, width)]
    return "\n".join(lines)


def _side(definition: Definition, side: tuple[Run, ...]) -> str:
    runs = ", ".join(str(run.number) for run in side[:8]) + (" .." if len(side) > 8 else "")
    boots = phrases.counted(len({run.boot for run in side}), "boot")
    where = phrases.setting(definition, side[0].ran)
    return f"{where}: {phrases.counted(len(side), 'run')} ({runs}) over {boots}"


def _verdict(measure: Measure) -> str:
    name = f"Sub-score {measure.name}" if measure.name else "Score"
    gain = measure.second.mean - measure.first.mean
    share = f" ({gain / measure.first.mean:+.2%})" if measure.first.mean else ""
    amount = f"{'+' if gain >= 0 else ''}{spread(gain)}{share}"
    if measure.difference is None:
        return f"{name}: {amount}; the noise is not known"
    if not measure.real:
        return f"{name}: {amount}, WITHIN NOISE"
    return f"{name}: {amount}, a real {'gain' if gain > 0 else 'loss'}"


def _rows(measure: Measure) -> list[tuple[str, str]]:
    rows = []
    for label, sample in (("A", measure.first), ("B", measure.second)):
        rows.append((label, _sample(sample)))
        if sample.hangs_together:
            rows.append(("", hanging(sample.count, sample.effective)))
    if measure.difference is None:
        return [*rows, ("Settle", "run one of the settings again, and score it")]
    low, high = measure.difference.interval()
    p = measure.difference.p_value
    by = "Welch's test" if measure.own_spread else "the noise of all settings' repeats"
    chance = "under 0.1%" if p < 0.001 else f"{p:.1%}"
    rows.append(("Truth", f"{spread(low)} to {spread(high)}, 95% sure ({by})"))
    if measure.name:
        return rows
    rows.append(("Chance", f"{chance} to see so large a difference were there none"))
    return rows if measure.real else [*rows, ("Settle", _settle(measure))]


def _sample(sample: Sample) -> str:
    if sample.deviation is None:
        return f"{points(sample.mean)}, one run"
    return f"{points(sample.mean)}, {sample.count} runs that differ by {spread(sample.deviation)}"


def _settle(measure: Measure) -> str:
    if measure.repeats is None or measure.repeats > _MANY:
        return f"so small a difference takes more than {_MANY} runs on each side"
    text = (
        f"a true difference of this size is noticed by {measure.repeats} runs on each side, four"
        " times in five"
    )
    if measure.least is not None:
        text += f"; those here notice one of {spread(measure.least)}"
    return text
