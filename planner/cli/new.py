"""`planner new`."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from planner.cli.console import out, talk, width
from planner.cli.studies import DEFINITION, FILES, new_folder, suffix_of
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
    prior: Annotated[
        list[str] | None,
        typer.Option(
            "--prior",
            metavar="STUDY",
            help="Start from what a study of a like part taught; repeatable.",
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
    text = _text(template, spd, prior or [], folder.resolve().name)
    parse_text(text)
    if any((folder / file).exists() for file in FILES):
        raise StudyMissing(f"new {name!r}: {folder} holds a study already, expected a new name")
    if store is None:
        new_place(folder, text)
    else:
        _share(folder, text, store)
    study = Study.open(folder)
    suffix = suffix_of(name)
    out(f"Made {folder / DEFINITION}")
    talk("\n" + started_text(study.history.definition, str(folder / DEFINITION), suffix, width()))


def _share(folder: Path, text: str, store: str) -> None:
    """Make the study on a server, with its file in a folder here."""
    from planner.cli.join import address_of
    from planner.store import new_place, remember, write_store
    from planner.study import Study

    address = address_of(store)
    new_place(address.shown, text)  # asks the server before anything is written here
    new_place(folder, text)
    Study.create(folder / DEFINITION, address.shown)
    remember(address)
    write_store(folder, address)


def _text(template: Template | None, spd: str | None, prior: list[str], name: str) -> str:
    if prior:
        return _taught(template, spd, prior, name)
    if spd is None:
        return template_text(template or Template.CORE, name)
    if template not in (None, Template.MEMORY):
        raise InputError(f"--template {template} with --spd: expected --template memory, or none")
    from planner.cli.memory_study import memory_study
    from planner.cli.spd import read_dump

    return memory_study(template_text(Template.MEMORY, name), read_dump(spd))


def _taught(template: Template | None, spd: str | None, prior: list[str], name: str) -> str:
    """The first earlier study's own text, with where this sample's edges probably lie."""
    from planner.cli.prior_study import with_prior
    from planner.cli.samples import told

    if template is not None or spd is not None:
        raise InputError("--prior: expected neither --template nor --spd beside it")
    definition, _, spreads = told(prior)
    if not spreads:
        raise InputError(f"--prior {prior[0]}: no run of it moved a knob that can fail")
    return with_prior(definition.text, name, spreads)


def template_text(template: Template, name: str) -> str:
    """The template with the study's name filled in."""
    from importlib.resources import files

    file = files("planner.cli") / "templates" / f"{template}.toml"
    return file.read_text(encoding="utf-8").replace('name = "NAME"', f'name = "{name}"', 1)
