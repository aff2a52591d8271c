"""The ceilings as they bound proposals, and what it says before one is lifted."""

from planner.domain.ceilings import Ceilings
from planner.domain.definition import Definition
from planner.domain.quantity import conversion
from planner.gate import effective_ceiling
from planner.history import History
from planner.report.text import phrases
from planner.report.text.layout import columns, prose, widest
from planner.trade.heat.wear import exponential_factor, heat_factor, power_factor

_MANY = 100
_LEAST_VOLTS = 0.4
"""Less is an offset, whose own size says nothing of wear."""


def blank(definition: Definition) -> list[str]:
    """Names of voltages whose everyday ceiling was left blank: they are not raised."""
    return [
        name
        for name, knob in definition.knobs.items()
        if knob.ceilings.everyday is None
        and knob.lifts_voltage
        and name in definition.guarded
        and definition.guarded[name].everyday is not None
    ]


def ceiling_lines(history: History, width: int) -> list[str]:
    """One line for each value that has a ceiling, given or implied."""
    definition = history.definition
    bounded = {name: c for name, c in definition.guarded.items() if c.given}
    if not bounded:
        return ["  none filled in"]
    empty = blank(definition)
    rows: list[tuple[str, ...]] = [("", "everyday", "own risk", "hard stop")]
    rows += [
        (
            name,
            "stock" if name in empty else _shown(definition, name, c.everyday),
            *(_shown(definition, name, v) for v in (c.own_risk, c.hard_stop)),
        )
        for name, c in bounded.items()
    ]
    lines = ["  " + line for line in columns(rows, right=(1, 2, 3))]
    if widest(lines) > width:
        lines = [line for row in rows[1:] for line in _stacked(row, rows[0], width)]
    for name in empty:
        lines += prose(
            f"{name} has no everyday ceiling filled in: no rise above stock is proposed.", width, 2
        )
    for name, up_to in history.accepted.items():
        lines += prose(_accepted(definition, name, up_to), width, 2)
    return lines


def caution_text(definition: Definition, name: str, ceilings: Ceilings, width: int) -> str:
    """What the person should know before lifting the everyday ceiling of `name`."""
    everyday, own_risk = (
        _shown(definition, name, value) for value in (ceilings.everyday, ceilings.own_risk)
    )
    paragraphs = [
        f"{name}: above {everyday} and up to {own_risk} you are AT YOUR OWN RISK.",
        "Voltage and heat there can wear parts out soon, or kill them at once. Damage is"
        " for good, and warranties as a rule do not cover it. Crashes grow more frequent and can"
        " spoil the drive: have your data backed up, watch temperatures, and do not leave the"
        " machine alone.",
        *_wear(definition, name, ceilings),
        "Nothing is ever proposed past the value that you accept, nor past the hard stop. The"
        " acceptance is written to the ledger.",
    ]
    return "\n".join(line for text in paragraphs for line in prose(text, width))


def _wear(definition: Definition, name: str, ceilings: Ceilings) -> list[str]:
    """How steeply wear may grow up to the own-risk ceiling; nothing for an offset."""
    volt = conversion(phrases.unit_of(definition, name), "V")
    if volt is None or ceilings.everyday is None or ceilings.own_risk is None:
        return []
    low, high = ceilings.everyday * volt, ceilings.own_risk * volt
    if low < _LEAST_VOLTS:
        return []
    mild, steep = exponential_factor(high - low), power_factor(low, high)
    steep_words = f"{steep:.1f}" if steep < _MANY else f"over {_MANY}"
    everyday, own_risk = (
        _shown(definition, name, v) for v in (ceilings.everyday, ceilings.own_risk)
    )
    return [
        f"By the usual models a part wears {mild:.1f} to {steep_words} times as fast at {own_risk}"
        f" as at {everyday}, and about {heat_factor(80, 90):.1f} times as fast with every 10 C"
        " more. Which holds for yours is not known: it is no promise of a lifetime."
    ]


def accepted_text(history: History, name: str, width: int) -> str:
    """The confirmation of an accepted risk."""
    return "\n".join(prose(_accepted(history.definition, name, history.accepted[name]), width))


def _accepted(definition: Definition, name: str, up_to: float) -> str:
    ceilings = definition.guarded.get(name)
    shown = phrases.in_unit(definition, name, up_to)
    if ceilings is None:
        return f"{name}: risk accepted up to {shown}, but it is not in the study any more."
    top = effective_ceiling(ceilings, up_to)
    text = f"{name}: own risk accepted up to {shown}"
    if top is not None and top < up_to:
        text += f", proposals stop at {phrases.in_unit(definition, name, top)}"
    return text + "."


def _shown(definition: Definition, name: str, value: float | None) -> str:
    return "-" if value is None else phrases.in_unit(definition, name, value)


def _stacked(row: tuple[str, ...], heads: tuple[str, ...], width: int) -> list[str]:
    name, *values = row
    told = ", ".join(
        f"{head} {value}" for head, value in zip(heads[1:], values, strict=True) if value != "-"
    )
    return [f"  {name}", *prose(told, width, 4)]
