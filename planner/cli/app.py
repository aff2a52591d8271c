"""The table of commands, each in a file of its own that is loaded when it is called."""

import io
import sys
from collections.abc import Iterator, Mapping
from importlib import import_module
from types import ModuleType
from typing import Annotated, Any

import typer
from typer.core import TyperCommand, TyperGroup

from planner.cli.afterwards import saying_afterwards
from planner.cli.as_typed import AsTyped
from planner.cli.console import refuse
from planner.errors import PlannerError

COMMANDS: Mapping[str, tuple[str, str]] = {
    "new": ("planner.cli.new", "Make a study from a template."),
    "check": ("planner.cli.check", "Check study.toml and the ledger; repair a damaged one."),
    "next": ("planner.cli.next", "What to run next, and why."),
    "record": ("planner.cli.record", "Tell how a run ended."),
    "guide": ("planner.cli.guide", "Ask and record at one prompt, run after run."),
    "serve": ("planner.cli.serve", "A page for a phone or a second screen."),
    "drive": ("planner.cli.drive", "Run the search by itself, with commands of yours."),
    "amend": ("planner.cli.amend", "Mend or void a run that is on record."),
    "show": ("planner.cli.show", "Edges, best setting, runs, minutes, ceilings."),
    "why": ("planner.cli.why", "Which knob a failed run is blamed on."),
    "forecast": ("planner.cli.forecast", "How the best score may rise from here."),
    "accept-risk": ("planner.cli.accept_risk", "Let a knob rise above its everyday ceiling."),
    "changed": ("planner.cli.changed", "Tell of new firmware, a remount, another sample."),
    "mirror": ("planner.cli.mirror", "Keep a second copy of the ledger in another place."),
    "boot": ("planner.cli.boot", "Tell that the machine was started anew."),
    "close": ("planner.cli.close", "End the search."),
    "gap": ("planner.cli.gap", "How far it is to the scores to beat."),
    "samples": ("planner.cli.samples", "Compare samples of a part, for the next one."),
    "compare": ("planner.cli.compare", "Whether one setting scores more than another."),
    "claim": ("planner.cli.claim", "What it takes to claim that a setting holds."),
    "mains": ("planner.cli.mains", "What a circuit leaves for the bench."),
    "reopen": ("planner.cli.reopen", "Go on with a closed search."),
    "timing": ("planner.cli.timing", "What memory timings mean; read a module's SPD bytes."),
    "plot": ("planner.cli.plot", "Draw what is known."),
    "sheet": ("planner.cli.sheet", "Write the settings sheet, to keep and to show."),
    "report": ("planner.cli.report", "Write all that was done and learnt, on one page."),
    "export": ("planner.cli.export", "Write all runs as CSV or JSON."),
    "import": ("planner.cli.import_", "Record runs made elsewhere, from a CSV file."),
    "join": ("planner.cli.join", "Take part in a study that stands on a server."),
    "move": ("planner.cli.move", "Move a study to a server that benches share, or back."),
    "demo": ("planner.cli.demo", "Watch a search on a made-up rig."),
}
"""Name: the module whose function `command` it is, and one line of help. A module with a table
`COMMANDS` of its own stands for the commands in it."""
_HELP_OPTIONS = {"help_option_names": ["--help", "-h"]}


class _Command(AsTyped, TyperCommand):
    pass


class _Loaded(Mapping[str, Any]):
    """A table as typer wants it: names at once, a command when it is asked for."""

    def __init__(self, table: Mapping[str, tuple[str, str]]) -> None:
        self._table = table

    def __getitem__(self, name: str) -> Any:
        module, line = self._table[name]
        loaded = import_module(module)
        if hasattr(loaded, "COMMANDS"):
            return _group(loaded)
        single = typer.Typer(
            add_completion=False, rich_markup_mode=None, context_settings=_HELP_OPTIONS
        )
        single.command(name, cls=_Command, short_help=line)(loaded.command)
        return typer.main.get_command(single)

    def __iter__(self) -> Iterator[str]:
        return iter(self._table)

    def __len__(self) -> int:
        return len(self._table)


class _Listed(AsTyped, TyperGroup):
    """Commands of a table."""

    table: Mapping[str, tuple[str, str]]

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self.commands = _Loaded(self.table)  # type: ignore[assignment]  # it is only read

    def list_commands(self, ctx: Any) -> list[str]:
        return list(self.table)

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in self.table.items()])


def _group(loaded: ModuleType) -> Any:
    """The commands under a command, from the table and the docstring of their package."""
    grouped = typer.Typer(
        cls=type("_Group", (_Listed,), {"table": loaded.COMMANDS}),
        add_completion=False,
        no_args_is_help=True,
        rich_markup_mode=None,
        context_settings=_HELP_OPTIONS,
        help=loaded.__doc__,
    )
    grouped.callback()(lambda: None)
    return typer.main.get_command(grouped)


class _Commands(_Listed):
    table = COMMANDS

    def invoke(self, ctx: Any) -> Any:
        try:
            with saying_afterwards():
                return super().invoke(ctx)
        except PlannerError as error:
            raise typer.Exit(refuse(error)) from None


app = typer.Typer(
    cls=_Commands,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings=_HELP_OPTIONS,
)


def _print_version(asked: bool) -> None:
    if asked:
        typer.echo(f"planner {import_module('planner').__version__}")
        raise typer.Exit


@app.callback()
def _planner(
    version: Annotated[
        bool, typer.Option("--version", callback=_print_version, help="Print the version.")
    ] = False,
) -> None:
    """Plan a stability search: what to try next, where the edge is, when to stop.

    Start with `planner new NAME`, or watch `planner demo`.
    """


def run() -> None:
    """Run on this process's arguments; characters that the console lacks become `?`."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    app(prog_name="planner", windows_expand_args=False)
