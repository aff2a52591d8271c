"""`planner serve`."""

import gc
import time
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out, talk, to_terminal
from planner.cli.show import standing_of
from planner.cli.studies import find_study, open_for_an_evening
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.page.door import Door

PORT = 8417


def command(
    name: Name = None,
    study: StudyName = None,
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="0: any that is free.")
    ] = PORT,
    address: Annotated[
        str,
        typer.Option(
            "--address", metavar="A", help="This machine's IP address, to reach it from a phone."
        ),
    ] = "127.0.0.1",
    new_link: Annotated[
        bool, typer.Option("--new-link", help="Make a new key: links given out before end.")
    ] = False,
) -> None:
    """A page for a phone or a second screen: what to run, a tap to answer, how it stands.

    It is served from this machine until Ctrl-C. With an address other than the default, whoever
    has the link that is printed can record runs.
    """
    from planner.driving.trail import Trail

    try:
        from planner.page.code import drawn_code
        from planner.page.desk import Desk
        from planner.page.key import forget_key
        from planner.page.server import checked_address, serve
        from planner.page.thinker import Thinker
    except ModuleNotFoundError as error:
        if error.name not in ("flask", "werkzeug", "markupsafe", "segno"):
            raise
        raise InputError(
            f"planner serve needs the library {error.name}: pip install 'bench-planner[serve]'"
        ) from None
    gc.enable()  # it was off for commands that are soon over
    checked = checked_address(address)
    opened, folder = open_for_an_evening(name or study), find_study(name or study)
    if new_link:
        forget_key(folder)
    thinker = Thinker(open_for_an_evening(name or study).study, standing_of)
    thinker.ask(0)  # so that the first page is quick
    desk = Desk(opened.study, thinker, opened.suffix, time.monotonic, Trail(folder).run_at_work)
    serve(desk, folder, checked, port, partial(_say, drawn_code))
    talk("\nNo page is served any more; what was recorded stands.")


def _say(drawn_code: Callable[[str], str], door: "Door") -> None:
    out(door.link)
    if door.key:
        if to_terminal() and (code := drawn_code(door.link)):
            typer.echo(f"\n{code}\n")
        talk(
            "Whoever has this link can see the study and record runs, and it is sent unencrypted:"
            " use it in a network of your own only. It stays the same at the next start; --new-link"
            " makes another."
        )
    talk("Ctrl-C ends it.")
