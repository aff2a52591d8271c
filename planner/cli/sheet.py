"""`planner sheet`."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName, out_file
from planner.cli.console import out, out_json
from planner.cli.next import recommendations
from planner.cli.studies import find_study, open_study
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.report.sheet.nouns import Search, Sheet
    from planner.study import Study

FILES = ("sheet.md", "sheet.html")
"""What is written into the study's folder."""
_PICTURES = "pictures"
_ENDINGS = (".md", ".html")
_OPENING = 1000
"""Bytes within which a sheet has said what it is."""


Attach = Annotated[
    list[str] | None,
    typer.Option(
        "--attach",
        metavar="FILE",
        help="Goes with it, named by its SHA-256; as do all in pictures/. Repeatable.",
    ),
]


def command(
    name: Name = None,
    study: StudyName = None,
    file: Annotated[
        Path | None,
        out_file(
            "One .md or .html file.  [default: sheet.md and sheet.html in the study's folder]"
        ),
    ] = None,
    attach: Attach = None,
    json: Json = False,
) -> None:
    """Write down what was set when a score was made, and what the setting to keep rests on."""
    _check(file, json)
    opened, folder = open_study(name or study), find_study(name or study)
    sheet = sheet_of_study(opened.study, folder, attach or [])
    if json:
        from planner.report.sheet.document import sheet_document
        from planner.report.text.json_form import json_text

        out_json(json_text(sheet_document(sheet)))
        return
    places = [folder / name for name in FILES] if file is None else [file]
    from planner.report.sheet.words import TITLE

    for place in places:
        spare(place, TITLE, "a settings sheet")
    for place in places:
        write(_text(sheet, place), place)
        out(str(place))


def _check(file: Path | None, json: bool) -> None:
    if file is not None and json:
        raise InputError(f"--json and --out {file}: expected one of them")
    if file is not None and file.suffix.lower() not in _ENDINGS:
        raise InputError(f"--out {file}: expected a file ending in {' or '.join(_ENDINGS)}")


def sheet_of_study(study: "Study", folder: Path, attach: list[str]) -> "Sheet":
    """The sheet with the pictures of the study's folder and what else is attached."""
    from planner.report.sheet.attached import attached_files, pictures_in
    from planner.report.sheet.gather import sheet_of

    files = [*pictures_in(folder / _PICTURES), *map(Path, attach)]
    return sheet_of(study.history, _search(study), study.head, attached_files(files))


def _search(study: "Study") -> "Search | None":
    from planner.report.sheet.gather import search_of

    if study.history.definition.searched is None:
        return None
    best, everyday = recommendations(study)
    traced = study.history.definition.goal.aim == "frontier"
    frontier = study.frontier() if traced else None
    return search_of(study.history, best, everyday, study.closing(), frontier)


def spare(file: Path, title: str, what: str) -> None:
    """Refuse to write over a file that does not say near its start that it is such a document."""
    try:
        with file.open("rb") as stream:
            start = stream.read(_OPENING)
    except FileNotFoundError:
        return
    except OSError as error:
        raise InputError(f"{file}: cannot be written ({error.strerror})") from None
    if start and title.encode() not in start:
        raise InputError(f"{file}: holds something else than {what}, expected another name")


def _text(sheet: "Sheet", file: Path) -> str:
    from planner.report.sheet.forms import markdown_text, page_text

    return markdown_text(sheet) if file.suffix.lower() == ".md" else page_text(sheet)


def write(text: str, file: Path) -> None:
    """Write a document; makes the folder if there is none."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise InputError(f"{file}: cannot be written ({error.strerror})") from None
