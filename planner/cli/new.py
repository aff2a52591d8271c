"""`planner new`."""

from enum import StrEnum
from typing import Annotated

import typer

from planner.cli.console import out, talk, width
from planner.cli.studies import FILES, new_folder, suffix_of
from planner.errors import StudyMissing


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
    template: Annotated[Template, typer.Option(help="What is tuned.")] = Template.CORE,
) -> None:
    """Make a study: a folder with a study.toml to read and edit, and its ledger."""
    from planner.domain.parse import parse_text
    from planner.report.text.start import started_text
    from planner.store import new_place
    from planner.study import Study

    folder = new_folder(name)
    text = template_text(template, folder.resolve().name)
    parse_text(text)
    if any((folder / file).exists() for file in FILES):
        raise StudyMissing(f"new {name!r}: {folder} holds a study already, expected a new name")
    new_place(folder, text)
    study = Study.open(folder)
    suffix = suffix_of(name)
    out(f"Made {folder / FILES[0]}")
    talk("\n" + started_text(study.history.definition, str(folder / FILES[0]), suffix, width()))


def template_text(template: Template, name: str) -> str:
    """The template with the study's name filled in."""
    from importlib.resources import files

    file = files("planner.cli") / "templates" / f"{template}.toml"
    return file.read_text(encoding="utf-8").replace('name = "NAME"', f'name = "{name}"', 1)
