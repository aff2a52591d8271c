"""What a drive tells while it goes on; the command line puts it into words."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Protocol

from planner.domain.run import Proposal, Run


class End(StrEnum):
    """How a drive ended."""

    CLOSED = "closed"
    """Nothing is left to ask for."""
    ASKED = "asked"
    """The person asked, or the runs agreed on are done."""
    AT_ONCE = "at once"
    """The person ended the run too."""
    PERSON = "person"
    """It needs a person."""
    FAILED = "failed"
    """A command failed, the machine is gone, or too much failed in a row."""


class Screen(Protocol):
    """Where a drive is watched."""

    def asked(self, proposal: Proposal) -> None:
        """A run begins."""
        ...

    def ticked(self, seconds: float, length_s: float, readings: Mapping[str, float]) -> None:
        """So long the workload has run, of so many seconds."""
        ...

    def recorded(self, run: Run, why: str) -> None:
        """It is on disk."""
        ...

    def said(self, text: str) -> None:
        """Something else worth a line."""
        ...
