"""On what terms the next run is asked for."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.domain.definition import Definition
from planner.errors import RecordError


@dataclass(frozen=True, slots=True)
class Terms:
    """What a person asks for beyond what the study says, for one run."""

    everyday_only: bool = False
    """Whether accepted risks are ignored."""
    only: frozenset[str] = frozenset()
    """Groups and knobs that may be turned; all if empty."""
    start: int | None = None
    """The run beside which the next is looked for; None: the best so far."""
    max_changes: int | None = None
    """How many values may be dialled in at once; None: as many as pay."""

    @property
    def of_the_search(self) -> bool:
        """Whether anything narrows a search over many knobs."""
        return bool(self.only) or self.start is not None or self.max_changes is not None

    def check(self, definition: Definition, runs: Mapping[int, object]) -> None:
        """Refuse what no search can keep to.

        Raises:
            RecordError: a group, knob or run that there is not, or no change allowed at all.
        """
        known = {*definition.knobs, *(k.group for k in definition.knobs.values() if k.group)}
        for name in sorted(self.only - known):
            raise RecordError(
                f"only {name!r}: expected a group or knob: {', '.join(sorted(known))}"
            )
        if self.start is not None and self.start not in runs:
            raise RecordError(f"from run {self.start}: there is none")
        if self.max_changes is not None and self.max_changes < 1:
            raise RecordError(f"max changes {self.max_changes}: expected 1 or more")

    def turned(self, definition: Definition) -> list[str]:
        """The knobs that may be turned."""
        return [
            name
            for name, knob in definition.knobs.items()
            if not knob.frozen and (not self.only or self.only & {name, knob.group})
        ]

    @property
    def body(self) -> dict[str, Any]:
        """What narrows the search, for the entry of a proposal; empty where nothing does."""
        found = {"only": sorted(self.only), "start": self.start, "max_changes": self.max_changes}
        return {key: value for key, value in found.items() if value}


def terms_of(body: Mapping[str, Any]) -> Terms:
    """The terms in the entry of a proposal."""
    return Terms(
        only=frozenset(map(str, body.get("only", ()))),
        start=body.get("start"),
        max_changes=body.get("max_changes"),
    )


USUAL = Terms()
