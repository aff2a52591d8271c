"""The definition of a study that starts from what studies of like parts taught."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import tomlkit

if TYPE_CHECKING:
    from planner.peak.samples import Spread


def with_prior(text: str, name: str, spreads: "Mapping[str, Spread]") -> str:
    """The text under another name, with `expected` of each knob that is told of.

    Knobs of an `each` family keep theirs: samples tell of single units.
    """
    document: Any = tomlkit.parse(text)
    document.setdefault("study", tomlkit.table())["name"] = name
    for knob in document.get("knob", []):
        spread = spreads.get(knob["name"])
        if spread is None:
            continue
        low, high = (float(f"{end:.4g}") for end in spread.expected)
        knob["expected"] = [low, high]
        knob["expected"].comment(f"from {_counted(spread.samples)}")
    return tomlkit.dumps(document)


def _counted(samples: int) -> str:
    return "one sample" if samples == 1 else f"{samples} samples"
