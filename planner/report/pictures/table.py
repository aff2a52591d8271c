"""The table of pictures, each in a folder of its own that is loaded when it is asked for.

Another one takes a folder whose `__init__` holds a `PICTURE`, and a line here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module

from planner.errors import InputError
from planner.report.pictures.picture import Picture


@dataclass(frozen=True, slots=True)
class Listed:
    """A picture that can be asked for by its name."""

    module: str
    """Where its `PICTURE` stands."""
    line: str
    """One line of help."""
    two_knobs: bool = False
    """Whether the person may choose the knobs of its axes."""
    aims: tuple[str, ...] = ()
    """The aims whose studies are drawn so unless another picture is named."""


PICTURES: Mapping[str, Listed] = {
    "edge": Listed("planner.report.pictures.edge", "chance to pass against the searched knob"),
    "map": Listed("planner.report.pictures.map", "what passed over two knobs", two_knobs=True),
    "frontier": Listed(
        "planner.report.pictures.frontier", "the edge along a second knob", aims=("frontier",)
    ),
    "progress": Listed(
        "planner.report.pictures.progress",
        "what the bench minutes brought",
        aims=("peak", "everyday", "trim"),
    ),
}
USUAL = "edge"
"""What is drawn, unless another one is named, where the study's aim has no picture of its own."""


def usual_for(aim: str) -> str:
    """What is drawn of a study with that aim unless another one is named."""
    return next((name for name, listed in PICTURES.items() if aim in listed.aims), USUAL)


def picture_named(name: str) -> Picture:
    """The picture of that name.

    Raises:
        InputError: there is none.
    """
    if name not in PICTURES:
        raise InputError(f"picture {name!r}: expected one of {', '.join(PICTURES)}")
    picture: Picture = import_module(PICTURES[name].module).PICTURE
    return picture
