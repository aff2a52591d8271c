"""The commands of one run in their order, as a dry run shows them."""

import shlex
from collections.abc import Iterator, Mapping
from pathlib import Path

from planner.domain.definition import Definition
from planner.domain.launch import Command, Drive
from planner.drive.order import Order
from planner.drive.room import FOLDER


def steps_of(
    definition: Definition, drive: Drive, folder: Path, settings: Mapping[str, float | str]
) -> list[tuple[str, str]]:
    """What is run when, and the command with its places filled in."""
    file = folder.resolve() / FOLDER / "settings.json"
    workload = definition.workload
    order = Order(definition, settings, file, 0, workload.name, workload.minutes * 60)
    stock = Order(definition, definition.stock, file, 0, workload.name, workload.minutes * 60)
    return [
        (when, _typed(command, stock if at_stock else order))
        for when, command, at_stock in _when(definition, drive)
    ]


def _when(definition: Definition, drive: Drive) -> Iterator[tuple[str, Command, bool]]:
    launch = definition.workload.launch
    if drive.probe is not None:
        every = f"every {drive.probe.every_s:g} s while it runs"
        yield f"probe: before each run and {every}", drive.probe.command, False
    yield f"apply: at most {drive.apply.limit_s:g} s", drive.apply, False
    if drive.heartbeat is not None:
        lost = f"{drive.heartbeat.misses} failures in a row are a crash"
        every = f"every {drive.heartbeat.every_s:g} s"
        yield f"heartbeat: {every}; {lost}", drive.heartbeat.command, False
    if launch is not None:
        ends = "ended" if launch.until_stopped else "a hang"
        yield (
            f"workload {definition.workload.name}: after {launch.command.limit_s:g} s {ends}",
            launch.command,
            False,
        )
    if drive.reset is not None:
        yield "reset: when it does not answer", drive.reset, True
    if drive.restore is not None:
        yield "restore: after a crash and at the end", drive.restore, True


def _typed(command: Command, order: Order) -> str:
    words = order.words(command)
    return f"shell: {words[0]}" if command.shell else shlex.join(words)
