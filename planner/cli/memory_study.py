"""The definition of a memory study for a module: the template with the module's own values."""

import re
import textwrap
from typing import Any

import tomlkit

from planner.domain.quantity import format_number
from planner.report.text.timing.figures import ns
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.ranges import TIMED, Range, ranges
from planner.trade.timing.spd.module import Module
from planner.trade.timing.supply import SUPPLIES

_TIED = "\N{NO-BREAK SPACE}"
_COLUMN = 24
"""Where comments stand in the templates."""
_RANGE = ("low", "high", "step", "stock")


def memory_study(template: str, module: Module) -> str:
    """The template's text with knobs, rules and standard of the module."""
    document: Any = tomlkit.parse(template)
    found = ranges(module)
    document["rig"]["memory"] = module.standard.value
    knobs = document["knob"]
    at = next(place for place, knob in enumerate(knobs) if knob["name"] == "tRAS")
    for name in TIMED[: TIMED.index("tRAS") : -1]:
        knobs.insert(at + 1, _timing(name))
    for knob in knobs:
        _fill(knob, found[knob["name"]], module)
        if "supports" in knob:
            knob["supports"] = ["data_rate", *TIMED]
    for rule in _rules(module):
        document["rule"].append(rule)
    _adjust(document["rule"], module)
    return _heading(module) + tomlkit.dumps(document).partition("\n\n")[2]


def _heading(module: Module) -> str:
    clocks = module.timings().clocks
    others = ", ".join(f"{n} {clocks[n]}" for n in TIMINGS if n in clocks and n not in TIMED)
    return (
        f"# System memory, {module.standard}-{module.rate}, from the module's SPD bytes: stock is"
        " what it says\n# of itself. Set it to what your machine runs, set the ranges to what your"
        " firmware offers,\n# then `planner check`. Lines that begin with # are comments.\n"
        f"# Its other timings in clocks, to add as knobs like tRAS:\n{_wrapped(others)}\n\n"
    )


def _wrapped(text: str) -> str:
    """As comment lines, a name and its clocks on one line."""
    tied = re.sub(r"(?<=\w) (?=\d)", _TIED, text)
    return "\n".join(f"# {line}" for line in textwrap.wrap(tied, 92)).replace(_TIED, " ")


def _comment(table: Any, key: str, text: str) -> None:
    """A comment after a value, in the column of the template's."""
    item = table[key]
    item.comment(text)
    item.trivia.comment_ws = " " * max(_COLUMN - len(f"{key} = {item.as_string()}"), 1)


def _timing(name: str) -> Any:
    knob = tomlkit.table()
    knob.update({"name": name, "group": "memory", "unit": "clocks"})
    knob.update(dict.fromkeys(_RANGE, 0))
    knob.add("harder", "down")
    knob.add(tomlkit.nl())
    return knob


def _fill(knob: Any, values: Range, module: Module) -> None:
    name = knob["name"]
    for key in _RANGE:
        value = getattr(values, key)
        knob[key] = int(value) if value == int(value) and name != "memory_voltage" else value
    time = module.times.get(name)
    if time is not None:
        _comment(knob, "stock", f"{ns(time / 1000)} at least, says the module")
    if name == "memory_voltage" and (supply := SUPPLIES.get(module.standard)):
        top = format_number(supply.absolute)
        _comment(
            knob, "high", f"{top} V is the standard's stress rating, nothing is promised there"
        )
    if name == "data_rate" and values.step == 133:
        _comment(knob, "step", "your firmware's names may differ by some MT/s, as 2800 for 2799")


def _rules(module: Module) -> list[Any]:
    clocks, time = module.timings().clocks, module.times["tRFC"]
    short = clocks["tRAS"] + clocks["tRP"] - clocks["tRC"]
    slack = f" - {short}" if short > 0 else ""
    least = min(time / 1000, int(clocks["tRFC"] * 20_000 / module.rate) / 10)
    return [
        _rule(
            "row cycle",
            f"tRC >= tRAS + tRP{slack}",
            "a row is open for tRAS, then closes for tRP: less does nothing",
        ),
        _rule(
            "refresh",
            f"2000 * tRFC / data_rate >= {format_number(least)}",
            f"{ns(time / 1000)}, says the module; too little loses data unnoticed",
        ),
    ]


def _rule(name: str, holds: str, why: str) -> Any:
    rule = tomlkit.table()
    rule.add("name", name)
    _comment(rule, "name", why)
    rule.update({"holds": holds, "kind": "note"})
    rule.add(tomlkit.nl())
    return rule


def _adjust(rules: Any, module: Module) -> None:
    """The template's rule on tRAS, with the module's own time in place of DDR5's."""
    for rule in rules:
        if rule["name"] == "row restored":
            time = format_number(module.times["tRAS"] / 1000)
            rule["holds"] = f"2000 * tRAS / data_rate >= {time}"
            _comment(rule, "name", f"{time} ns, says the module; a tuned one may need less")
