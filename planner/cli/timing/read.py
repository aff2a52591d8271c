"""`planner timing read`."""

from pathlib import Path
from typing import Annotated

import typer

from planner.cli.arguments import Json
from planner.cli.console import out, out_json, width
from planner.cli.spd import read_dump


def command(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="A binary dump of the module's SPD bytes.")
    ],
    json: Json = False,
) -> None:
    """What a module says of itself: its data rate, its least times, its clocks, in sentences.

    DDR4 and DDR5, check sum included. `planner new NAME --spd FILE` makes a study of it.
    """
    from planner.report.text.timing.module import module_document, module_text

    module = read_dump(file)
    name = Path(file).name
    if json:
        from planner.report.text.json_form import json_text

        out_json(json_text(module_document(module, name)))
    else:
        out(module_text(module, file, width()))
