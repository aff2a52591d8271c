"""`planner new`."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from planner.cli.console import out, talk, width
from planner.cli.studies import FILES, new_folder, suffix_of
from planner.errors import InputError, StudyMissing


class Template(StrEnum):
    """Studies to begin from."""

    CORE = "core"
    GRAPHICS = "graphics"
    GRAPHICS_MEMORY = "graphics-memory"
    MEMORY = "memory"
    EMPTY = "empty"


def command(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help="Its folder under ./studies, or a path.")
    ],
    template: Annotated[
        Template | None,
        typer.Option(help="What is tuned.  [default: core; memory with --spd]", show_default=False),
    ] = None,
    spd: Annotated[
        str | None,
        typer.Option(
            "--spd", metavar="FILE", help="Knobs of a memory module from a dump of its SPD bytes."
        ),
    ] = None,
    store: Annotated[
        str | None,
        typer.Option(
            "--store", metavar="ADDRESS", help="Keep its ledger on a server that benches share."
        ),
    ] = None,
) -> None:
    """Make a study: a folder with a study.toml to read and edit, and its ledger."""
    from planner.domain.parse import parse_text
    from planner.report.text.start import started_text
    from planner.store import new_place
    from planner.study import Study

    folder = new_folder(name)
    text = _text(template, spd, folder.resolve().name)
    parse_text(text)
    if any((folder / file).exists() for file in FILES):
        raise StudyMissing(f"new {name!r}: {folder} holds a study already, expected a new name")
    if store is None:
        new_place(folder, text)
    else:
        _share(folder, text, store)
    study = Study.open(folder)
    suffix = suffix_of(name)
    out(f"Made {folder / FILES[0]}")
    talk("\n" + started_text(study.history.definition, str(folder / FILES[0]), suffix, width()))


def _share(folder: Path, text: str, store: str) -> None:
    """Make the study on a server, with its file in a folder here."""
    from planner.cli.join import address_of
    from planner.store import new_place, remember, write_store
    from planner.study import Study

    address = address_of(store)
    new_place(address.shown, text)  # asks the server before anything is written here
    new_place(folder, text)
    Study.create(folder / FILES[0], address.shown)
    remember(address)
    write_store(folder, address)


def _text(template: Template | None, spd: str | None, name: str) -> str:
    if spd is None:
        return template_text(template or Template.CORE, name)
    if template not in (None, Template.MEMORY):
        raise InputError(f"--template {template} with --spd: expected --template memory, or none")
    from planner.cli.memory_study import memory_study
    from planner.cli.spd import read_dump

    return memory_study(template_text(Template.MEMORY, name), read_dump(spd))


def template_text(template: Template, name: str) -> str:
    """The template with the study's name filled in."""
    from importlib.resources import files

    file = files("planner.cli") / "templates" / f"{template}.toml"
    return file.read_text(encoding="utf-8").replace('name = "NAME"', f'name = "{name}"', 1)
