"""`planner move`."""

from pathlib import Path
from typing import Annotated

import typer

from planner.cli.console import out, talk
from planner.cli.studies import find_study
from planner.errors import InputError, LedgerDamaged

HERE = "folder"


def command(
    name: Annotated[str, typer.Argument(metavar="NAME", help="Study: its folder, or a path.")],
    to: Annotated[
        str,
        typer.Argument(
            metavar="TO", help="postgresql://user@host/database#study, or the word folder."
        ),
    ],
) -> None:
    """Move a study to a server that several benches share, or back into its folder.

    Every entry is read back before the old place is given up, and that keeps its copy.
    """
    folder = find_study(name)
    kept = _back(folder) if to == HERE else _away(folder, to)
    out(f"Moved to {to}: {_what_stands(folder)}")
    talk(kept)


def _what_stands(folder: Path) -> str:
    from planner.report.text.phrases import counted
    from planner.report.text.standing import short_head
    from planner.study import Study

    try:
        study = Study.open(folder)
    except LedgerDamaged as error:  # moved as it is, to be mended here
        return f"{error}. Next: planner check --repair"
    study.hold()
    return f"{counted(study.head.seq, 'entry', 'entries')}, head {short_head(study.head)}"


def _away(folder: Path, to: str) -> str:
    from planner.cli.join import address_of
    from planner.store import is_address, move_to_server

    if not is_address(to):
        raise InputError(f"move to {to!r}: expected postgresql://..., or the word {HERE}")
    aside = move_to_server(folder, address_of(to))
    return f"The ledger as it was is kept in {aside}. Other benches: planner join NAME '{to}'"


def _back(folder: Path) -> str:
    from planner.store import move_to_folder

    renamed = move_to_folder(folder)
    return (
        f"On the server it is kept as {renamed!r}; benches that shared it are told that it is gone."
    )
