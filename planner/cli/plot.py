"""`planner plot`."""

from pathlib import Path
from typing import Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out
from planner.cli.studies import find_study, open_study

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
    opened = open_study(name or study)
    file = file or find_study(name or study) / PICTURE
    from planner.models.edge_search import edge_search
    from planner.report.edge_data import edge_picture
    from planner.report.plots import write_edge_picture

    best = opened.study.recommendation()
    search = edge_search(opened.study.history)
    assert search is not None, "the recommendation is of a searched knob"
    write_edge_picture(edge_picture(search, best), file)
    out(str(file))
