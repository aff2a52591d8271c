"""What is said once, before a new study's first run."""

from planner.domain.definition import Definition
from planner.report.text.ceilings import blank
from planner.report.text.layout import prose

_BEFORE = (
    "Back up your data. A crash can corrupt whatever drive is in use: run from a system drive"
    " that you can afford to lose.",
    "Know how to clear the firmware's settings on this board, and save the stock settings to a"
    " slot first.",
    "Check cooling, and know which temperatures your parts may reach. Stay with the machine.",
    "Check that supply, cable and outlet carry the load. Leave mains wiring to licensed people"
    " and the electrical code where you are.",
    "Too much voltage damages hardware for good, at once or slowly. Fill in a ceiling only from"
    " what the maker of the part states.",
)


def started_text(definition: Definition, file: str, suffix: str, width: int) -> str:
    """The list to go through before the first run, and the next two commands."""
    lines = ["Before the first run"]
    for text in _BEFORE:
        lines += prose(f"- {text}", width, 0, 2)
    lines += ["", *prose(f"Then set ranges, steps and stock values in {file}.", width)]
    if names := blank(definition):
        lines += prose(
            f"No ceiling is filled in for {', '.join(names)}: nothing above stock is proposed"
            " until there is.",
            width,
        )
    workload = definition.workload
    lines += ["", *prose(f"Run {workload.name} at stock. If it passes:", width)]
    lines += [f"  planner record pass --as-is{suffix}", "and from then on:"]
    return "\n".join([*lines, f"  planner next{suffix}"])
