"""`planner plot`."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out
from planner.cli.studies import find_study, open_study
from planner.errors import DefinitionError

if TYPE_CHECKING:
    from planner.study import Study

PICTURE = Path("pictures", "edge.png")
"""Where the picture is put in the study's folder."""


def command(
    name: Name = None,
    study: StudyName = None,
    file: Annotated[
        Path | None,
        typer.Option(
            "--out",
            "-o",
            metavar="FILE",
            help="A .png or .svg file.  [default: pictures/edge.png in the study's folder]",
            show_default=False,
        ),
    ] = None,
) -> None:
    """Draw the chance to pass against the knob, with runs, edge and ceilings; prints the file."""
    opened, folder = open_study(name or study), find_study(name or study)
    file = file or folder / PICTURE
    draw(opened.study, file)
    out(str(file))


def draw(study: "Study", file: Path) -> None:
    """Draw a study's picture into a .png or .svg file.

    Raises:
        DefinitionError: no knob of the study has a range.
        InputError: another ending, or the file cannot be written.
    """
    from planner.models.edge_search import edge_search
    from planner.report.edge_data import edge_picture
    from planner.report.plots import write_edge_picture

    search = edge_search(study.history)
    if search is None:
        raise DefinitionError("study.toml: [[knob]]: expected one with low, high and step")
    write_edge_picture(edge_picture(search), file)
