"""The mirror that `store.toml` names, and whether the person has agreed to it.

A study from someone else may name any folder of this machine, so nothing is written there before.
"""

from pathlib import Path

from planner.cli.console import talk
from planner.driving.agreed import digest_of, is_kept, keep
from planner.store import store_settings


def agreed_mirror(folder: Path) -> Path | None:
    """The file for the second copy; None where there is none, or it was not agreed to.

    Raises:
        DefinitionError: store.toml cannot be read, or a key or value that cannot be.
        InputError: the list of agreements cannot be read.
    """
    mirror = store_settings(folder).mirror_file(folder)
    if mirror is not None and not is_kept(_digest(folder, mirror)):
        talk(
            f"Note: {folder / 'store.toml'} names a mirror that nobody has agreed to; nothing is"
            f" written there. To agree: planner mirror {mirror.parent}"
        )
        return None
    return mirror


def agree_to(folder: Path, mirror: Path) -> None:
    """Remember that this study's ledger may be copied there.

    Raises:
        InputError: the list of agreements cannot be read or written.
    """
    keep(_digest(folder, mirror))


def _digest(folder: Path, mirror: Path) -> str:
    return digest_of(str(folder.resolve()), "mirror", str(mirror))
