"""`planner samples`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_study

if TYPE_CHECKING:
    from planner.domain.definition import Definition
    from planner.peak.samples import SampleEdge, Spread


def command(
    studies: Annotated[
        list[str], typer.Argument(metavar="NAME...", help="Studies of samples of the same part.")
    ],
    json: Json = False,
) -> None:
    """Compare samples of a part, and say where the next one's edges probably lie."""
    from planner.report.text.documents import samples_document
    from planner.report.text.json_form import json_text
    from planner.report.text.samples import samples_text

    definition, samples, spreads = told(studies)
    if json:
        out_json(json_text(samples_document(samples, spreads)))
    else:
        out(samples_text(definition, samples, spreads, width()))


def told(
    names: list[str],
) -> "tuple[Definition, dict[str, dict[str, SampleEdge]], dict[str, Spread]]":
    """The first study's definition, each one's edges, and what they tell of another sample."""
    from planner.peak.samples import expected_of

    opened = {name: open_study(name).study for name in dict.fromkeys(names)}
    first = next(iter(opened.values())).history.definition
    samples = {name: study.sample() for name, study in opened.items()}
    widths = {n: k.grid.high - k.grid.low for n, k in first.knobs.items() if k.grid is not None}
    return first, samples, expected_of(list(samples.values()), widths)
