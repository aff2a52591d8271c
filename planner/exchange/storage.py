"""Optuna's storages in one file, of the kinds that need nothing beyond Optuna itself.

An existing file is never opened in place: Optuna would make its tables in it, or bring it to its
own newest form. What is read is a copy; what is written is new.
"""

import logging
import shutil
import tempfile
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from optuna import create_study, load_study
from optuna import logging as optuna_logging
from optuna.exceptions import ExperimentalWarning
from optuna.storages import BaseStorage, JournalStorage, RDBStorage
from optuna.storages.journal import JournalFileBackend
from optuna.trial import FrozenTrial

from planner.errors import InputError

SQLITE, JOURNAL = (".db", ".sqlite3"), (".journal", ".log")
MAX_BYTES = 256_000_000
"""A larger file is refused before it is read."""


def read_trials(file: Path) -> tuple[str, list[FrozenTrial]]:
    """The name of the study in a storage and its trials.

    Raises:
        InputError: it cannot be read, is no storage, or holds not one study that maximises.
    """
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / f"copy{_ending(file)}"
        try:
            if file.stat().st_size > MAX_BYTES:
                raise InputError(f"{file}: more than {MAX_BYTES} bytes, expected runs of a bench")
            shutil.copyfile(file, copy)
        except OSError as error:
            raise InputError(f"{file}: cannot be read ({error.strerror})") from None
        try:
            with _opened(copy) as storage:
                found = load_study(study_name=None, storage=storage)
                directions, trials = found.directions, found.trials
        except InputError:
            raise
        except Exception as error:  # whatever another library makes of a file that is not its own
            why = " ".join(str(error).partition("[SQL")[0].split())[:200].replace(
                str(copy), str(file)
            )
            raise InputError(
                f"{file}: cannot be read as a storage of Optuna with one study:"
                f" {why or type(error).__name__}"
            ) from None
    if [direction.name for direction in directions] != ["MAXIMIZE"]:
        raise InputError(f"{file}: expected a study of one value that is maximised, as a score is")
    return found.study_name, trials


def write_trials(file: Path, name: str, trials: Sequence[FrozenTrial]) -> None:
    """Write a new storage that holds one study; whole or not at all.

    Raises:
        InputError: the file is there already, or cannot be written.
    """
    ending = _ending(file)
    if file.exists():
        raise InputError(f"--optuna {file}: is there already, expected a new name")
    try:
        with tempfile.TemporaryDirectory(dir=file.parent) as folder:
            part = Path(folder) / f"part{ending}"
            with _opened(part) as storage:
                study = create_study(storage=storage, study_name=name, direction="maximize")
                study.add_trials(trials)
            part.replace(file)
    except OSError as error:
        raise InputError(f"--optuna {file}: cannot be written ({error.strerror})") from None


def _ending(file: Path) -> str:
    ending = file.suffix.lower()
    if ending not in (*SQLITE, *JOURNAL):
        known = ", ".join((*SQLITE, *JOURNAL))
        raise InputError(f"--optuna {file}: expected a file whose name ends in one of {known}")
    return ending


@contextmanager
def _opened(file: Path) -> Iterator[BaseStorage]:
    optuna_logging.set_verbosity(logging.WARNING)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ExperimentalWarning)
        if file.suffix in JOURNAL:
            yield JournalStorage(JournalFileBackend(str(file)))
            return
        storage = RDBStorage(f"sqlite:///{file}")
        try:
            yield storage
        finally:
            storage.remove_session()
            storage.engine.dispose()
