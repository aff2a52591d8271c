"""Which ceiling a recorded value has passed, in words: only one that the person filled in."""

from collections.abc import Mapping

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.gate import above_everyday, past_hard_stop

NOT_FILLED_IN = "above stock, and no everyday ceiling is filled in"
"""Proposals stop at stock there, as at a ceiling; a person's own run may not have."""


def passed_ceilings(definition: Definition, setting: Mapping[str, Value]) -> dict[str, str]:
    """Each value of the setting that lies above a ceiling, with the gravest word on it."""
    everyday = {
        name: everyday_words(definition, name) for name in above_everyday(definition, setting)
    }
    return everyday | last_passed(definition, setting)


def everyday_words(definition: Definition, name: str) -> str:
    """What is said of a value above what is proposed every day."""
    noun = definition.knobs.get(name) or definition.derived[name]
    return NOT_FILLED_IN if noun.ceilings.everyday is None else "above the everyday ceiling"


def last_passed(definition: Definition, setting: Mapping[str, Value]) -> dict[str, str]:
    """The values past the highest ceiling that was filled in, and which one that is."""
    found = {}
    for name in past_hard_stop(definition, setting):
        given = (definition.knobs.get(name) or definition.derived[name]).ceilings
        if given.hard_stop is not None:
            found[name] = "PAST THE HARD STOP"
        elif given.given:
            found[name] = "PAST THE LAST CEILING"
    return found
