"""Telling of a change of the machine: firmware, a remount, another sample."""

from collections.abc import Sequence
from typing import Any

from planner.entries.facts import group_names
from planner.entries.few_words import is_few_words
from planner.errors import RecordError
from planner.history import History


def changed_entry(history: History, what: str, groups: Sequence[str]) -> dict[str, Any]:
    """The body of a `changed` entry.

    Raises:
        RecordError: nothing said, or a group that the study does not know.
    """
    if not is_few_words(what):
        raise RecordError(f"changed {what!r}: expected what was changed, in a few words")
    known = group_names(history.definition)
    for group in groups:
        if group not in known:
            listed = ", ".join(known) or "none"
            raise RecordError(f"changed: group {group!r}: expected one of {listed}")
    return {"what": what, "groups": list(groups)}


def closed_entry(reason: str) -> dict[str, Any]:
    """A search that a person ends.

    Raises:
        RecordError: no reason in a few printable words.
    """
    if not is_few_words(reason):
        raise RecordError(f"close {reason!r}: expected the reason, in a few words")
    return {"by": "person", "reason": reason}
