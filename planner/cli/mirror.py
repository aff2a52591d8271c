"""`planner mirror`."""

from pathlib import Path
from typing import Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import out, talk
from planner.cli.studies import LEDGER, find_study, mirror_of
from planner.errors import InputError


def command(
    place: Annotated[
        str | None,
        typer.Argument(metavar="FOLDER", help="Where to keep it.", show_default=False),
    ] = None,
    study: StudyName = None,
    off: Annotated[bool, typer.Option("--off", help="Keep none; what was copied stays.")] = False,
) -> None:
    """Keep a second copy of the ledger in FOLDER, best on another disk; each entry is read back.

    Without FOLDER it tells where the copy is kept.
    """
    folder = find_study(study)
    if place is not None and off:
        raise InputError(f"mirror {place!r} --off: expected one of the two")
    if off:
        _set(folder, "")
        out("No mirror from now on. What was copied stays where it is.")
    elif place is not None:
        _begin(folder, Path(place))
    else:
        mirror = mirror_of(folder)
        out("No mirror." if mirror is None else f"Mirror: {mirror}")


def _begin(folder: Path, place: Path) -> None:
    from planner.cli.mirroring import agree_to
    from planner.store import StoreSettings, begin_mirror
    from planner.study import Study

    if not place.expanduser().is_dir():
        raise InputError(f"mirror {str(place)!r}: expected a folder that is there")
    home = place.expanduser().resolve()
    if home == folder.resolve():
        raise InputError(f"mirror {str(place)!r}: expected another folder than the study's own")
    Study.open(folder)  # what stands there verifies, and a new study's definition is on record
    mirror = StoreSettings(mirror=str(home)).mirror_file(folder)
    assert mirror is not None
    begin_mirror(folder, mirror)
    _set(folder, str(home))
    agree_to(folder, mirror)
    out(f"Mirror: {mirror}. It holds all entries so far; each new one is read back.")
    here = (folder / LEDGER).exists()
    if here and home.stat().st_dev == folder.stat().st_dev:
        talk("Note: it is on the same disk as the study. Should that disk fail, both are lost.")


def _set(folder: Path, mirror: str) -> None:
    from planner.store import set_mirror

    set_mirror(folder, mirror)
