"""Which study is meant: a folder under the place for studies, or a path."""

import difflib
import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planner.bench import state_folder
from planner.cli.afterwards import say_afterwards
from planner.cli.console import talk
from planner.errors import InputError, StudyMissing

if TYPE_CHECKING:
    from planner.study import Study

DEFINITION, LEDGER, STORE = "study.toml", "ledger.jsonl", "store.toml"
FILES = (DEFINITION, LEDGER, STORE)
"""What makes a folder a study: any of them."""
_PLAIN = re.compile(r"[\w./\\:+-]+")
"""What no shell wants quoted."""
_UNSAFE = set('<>:"|?*$`!')
"""Characters that a system refuses in a file's name, or a shell takes for its own."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A study, and how its commands are typed."""

    study: "Study"
    suffix: str
    """What a command needs after it to mean this study; empty where it is the only one."""


def studies_home() -> Path:
    """The folder under which studies are named: PLANNER_STUDIES, else ./studies."""
    return Path(os.environ.get("PLANNER_STUDIES") or "studies")


def study_names(incomplete: str = "") -> list[str]:
    """Names of the studies there that begin so; also what shells complete."""
    try:
        found = sorted(p.name for p in studies_home().iterdir() if _is_study(p))
    except OSError:
        return []
    return [name for name in found if name.startswith(incomplete)]


def new_folder(name: str) -> Path:
    """Where a new study of this name is made.

    Raises:
        InputError: not a name or path that every system takes.
    """
    _refuse_address(name)
    folder = Path(name) if _is_path(name) else studies_home() / name
    title = folder.resolve().name
    if not title or not title.isprintable() or len(title) > 60 or set(title) & _UNSAFE:
        raise InputError(
            f"new {name!r}: expected a name of at most 60 letters, digits, blanks, - or _"
        )
    return folder


def find_study(name: str | None) -> Path:
    """The folder of the study meant; without a name the only one there is.

    Raises:
        StudyMissing: there is none.
        InputError: no name was given and there are several.
    """
    if name is None:
        return _only_study()
    _refuse_address(name)
    named = studies_home() / name
    if not _is_path(name) and (_is_study(named) or not Path(name).is_dir()):
        if not named.is_dir():
            raise StudyMissing(f"no study {name!r} in {studies_home()}{_hint(name)}")
        return named
    return Path(name)


def open_study(name: str | None) -> Opened:
    """Open the study meant, for a command that is over in a moment: its ledger is read once.

    Raises:
        StudyMissing: there is none.
        InputError: no name was given and there are several.
        LedgerDamaged: its ledger does not verify.
    """
    # Threads help such small matrices not at all, and wait for each other where a workload has the
    # cores. Numpy reads this when it is loaded. Not for `drive`: its workloads would inherit it.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    opened = open_for_an_evening(name)
    opened.study.hold()
    return opened


def open_for_an_evening(name: str | None) -> Opened:
    """The same, and what other windows and benches write meanwhile is seen at once.

    Raises:
        StudyMissing: there is none.
        InputError: no name was given and there are several.
        LedgerDamaged: its ledger does not verify.
    """
    folder = find_study(name)
    from planner.models.joint.shelf import SHELF
    from planner.study import Study

    SHELF.folder = _particles_folder
    opened = Opened(Study.open(folder, mirror_of(folder)), suffix_of(name))
    warn_afterwards(opened.study)
    return opened


def _particles_folder() -> Path:
    """Where the next command finds what this one worked out: outside every study."""
    return state_folder() / "particles"


def mirror_of(folder: Path) -> Path | None:
    """The file for a second copy of the ledger, as far as the person has agreed to it."""
    if not (folder / STORE).exists():  # most studies have none, and need not look further
        return None
    from planner.cli.mirroring import agreed_mirror

    return agreed_mirror(folder)


def warn_afterwards(study: "Study") -> None:
    """Have told at the end what there is to tell of the ledger, as a mirror out of reach."""

    def warn() -> None:
        if warning := study.warning:
            talk(f"Note: {warning}.")

    say_afterwards(warn)


def open_as_edited(name: str | None) -> Opened:
    """The same, and an edited study.toml is taken over first, with a word on it."""
    opened = open_study(name)
    take_over(opened.study)
    return opened


def take_over(study: "Study") -> None:
    """Take an edited study.toml over, with a word on it."""
    if study.adopt():
        talk("study.toml was edited: taken over.")


def suffix_of(name: str | None) -> str:
    """What a command needs after it to mean the study that was named so."""
    if name is None or study_names() == [name]:
        return ""
    return f" -s {name}" if _PLAIN.fullmatch(name) else f' -s "{name}"'


def _only_study() -> Path:
    names = study_names()
    if len(names) == 1:
        return studies_home() / names[0]
    if _is_study(Path()):
        return Path()
    if not names:
        raise StudyMissing(f"no study in {studies_home()} yet: make one with planner new NAME")
    raise InputError(f"which study? There are {', '.join(names)}: add -s NAME")


def _refuse_address(name: str) -> None:
    if "://" in name:
        from planner.store import masked

        raise InputError(
            f"{masked(name)!r}: is the address of a server, expected the name of a study: make one"
            " from it with planner join NAME ADDRESS"
        )


def _is_study(folder: Path) -> bool:
    return any((folder / file).is_file() for file in FILES)


def _is_path(name: str) -> bool:
    return name in (".", "..") or "/" in name or os.sep in name


def _hint(name: str) -> str:
    names = study_names()
    close = difflib.get_close_matches(name, names, n=1)
    if close:
        return f", did you mean {close[0]!r}?"
    return f", expected one of {', '.join(names)}" if names else ": make it with planner new"
