"""`planner plot`."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName, out_file
from planner.cli.console import out, talk
from planner.cli.studies import find_study, open_study
from planner.errors import InputError
from planner.report.pictures.table import PICTURES, USUAL, picture_named, usual_for

if TYPE_CHECKING:
    from planner.history import History
    from planner.report.pictures.picture import Wanted
    from planner.searching import Searching

FOLDER = "pictures"
"""Where pictures are put in the study's folder."""
PICTURE = Path(FOLDER, f"{USUAL}.png")
_TWO_KNOBS = ", ".join(name for name, listed in PICTURES.items() if listed.two_knobs)
_LISTED = "; ".join(f"{name}: {listed.line}" for name, listed in PICTURES.items())
_OWN = "".join(
    f", {name} where the aim is {' or '.join(each.aims)}"
    for name, each in PICTURES.items()
    if each.aims
)


def picture_names(incomplete: str) -> list[str]:
    """The pictures whose names begin so, for shells to complete."""
    return [name for name in PICTURES if name.startswith(incomplete)]


def command(
    name: Name = None,
    study: StudyName = None,
    picture: Annotated[
        str | None,
        typer.Option(
            "--picture",
            "-p",
            metavar="|".join(PICTURES),
            help=f"{_LISTED}.  [default: {USUAL}{_OWN}]",
            autocompletion=picture_names,
            show_default=False,
        ),
    ] = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Draw every picture that the runs give.")
    ] = False,
    x: Annotated[
        str | None, typer.Option("--x", metavar="KNOB", help=f"Knob to the right ({_TWO_KNOBS}).")
    ] = None,
    y: Annotated[
        str | None, typer.Option("--y", metavar="KNOB", help=f"Knob upward ({_TWO_KNOBS}).")
    ] = None,
    file: Annotated[
        Path | None,
        out_file("A .png or .svg file.  [default: pictures/PICTURE.png in the study's folder]"),
    ] = None,
) -> None:
    """Draw what the runs tell, as a picture; prints the file."""
    from planner.report.pictures.picture import Wanted
    from planner.searching import Searching

    _check(picture, everything, file)
    opened, folder = open_study(name or study), find_study(name or study)
    history, wanted = opened.study.history, Wanted(x or "", y or "")
    chosen = picture or usual_for(history.definition.goal.aim)
    answers = Searching()
    if not everything:
        _check_axis(chosen, x or y)
    for each in PICTURES if everything else [chosen]:
        if everything and (lack := picture_named(each).lacks(history, wanted)):
            talk(f"No {each}: {lack}.")
            continue
        target = file or folder / FOLDER / f"{each}.png"
        draw(history, target, each, wanted, answers)
        out(str(target))


def draw(
    history: "History",
    file: Path,
    picture: str = USUAL,
    wanted: "Wanted | None" = None,
    answers: "Searching | None" = None,
) -> None:
    """Draw one of a study's pictures into a .png or .svg file.

    `answers`: shared by several pictures; None: worked out for this one.

    Raises:
        InputError: nothing to draw, an unknown knob, another ending, or the file cannot be
            written.
    """
    from planner.report.pictures.file import write_picture
    from planner.report.pictures.picture import Wanted
    from planner.searching import Searching

    drawn, wanted = picture_named(picture), wanted or Wanted()
    if lack := drawn.lacks(history, wanted):
        raise InputError(f"picture {picture}: {lack}")
    write_picture(drawn.prepare(history, wanted, answers or Searching()), file)


def _check(picture: str | None, everything: bool, file: Path | None) -> None:
    """Raises InputError where options contradict each other, before anything is read."""
    if everything and (picture or file):
        other = "--picture" if picture else "--out"
        raise InputError(f"--all with {other}: expected one of the two")
    if picture is not None:
        picture_named(picture)


def _check_axis(picture: str, axis: str | None) -> None:
    if axis and not PICTURES[picture].two_knobs:
        raise InputError(
            f"the picture {picture} has no axis to choose: expected --picture {_TWO_KNOBS}"
        )
