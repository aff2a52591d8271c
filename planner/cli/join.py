"""`planner join`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.console import out, talk
from planner.cli.studies import FILES, new_folder, suffix_of
from planner.errors import StudyMissing

if TYPE_CHECKING:
    from planner.store import Address


def command(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help="A folder for it under ./studies, or a path.")
    ],
    address: Annotated[
        str, typer.Argument(metavar="ADDRESS", help="postgresql://user@host/database#study")
    ],
) -> None:
    """Take part in a study that stands on a server: a folder here, the ledger there.

    The password comes from PGPASSWORD or PostgreSQL's password file, never from the address.
    """
    from planner.report.text.phrases import counted
    from planner.store import new_place, remember, store_settings, write_store
    from planner.study import Study

    server, folder = address_of(address), new_folder(name)
    if store_settings(folder).server != server:
        if any((folder / file).exists() for file in FILES):
            raise StudyMissing(
                f"join {name!r}: {folder} holds a study already, expected a new name"
            )
        new_place(folder, Study.open(server.shown).history.definition.text)
        write_store(folder, server)
    remember(server)
    study = Study.open(folder)
    study.hold()
    runs = counted(len(study.history.runs), "run")
    out(f"{folder}: takes part in {server} as {study.bench}, {runs} on record")
    talk(f"\nWhat to run next here: planner next{suffix_of(name)}")


def address_of(text: str) -> "Address":
    """A server's address as a person types it.

    Raises:
        InputError: it cannot be, or holds a password.
    """
    from planner.store import parse_address, refuse_password

    address = parse_address(text)
    refuse_password(address)
    return address
