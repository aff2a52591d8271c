"""The last particles of an evening that goes on, so that each run need not tell all anew.

Only what may be worked out again at any time is remembered: in this process, and on disk as far as
a command has named a folder for it (`shelf`). An end is found again by a name over all that it
depends on, and comes back to the bit, so that no proposal can tell whether it was remembered.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from hashlib import sha256
from io import BytesIO

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Places
from planner.models.joint.evidence import Evidence
from planner.models.joint.prior import RiskPrior
from planner.models.joint.shelf import SHELF
from planner.models.joint.shifting import GroupPrior
from planner.models.joint.state import Draws

Asked = tuple[int, int, tuple[RiskPrior, ...], tuple[GroupPrior, ...]]
"""Seed, number of particles and priors."""
_KEPT = 8


@dataclass(frozen=True)
class Particles:
    """Draws of all that is unknown, with the priors that they came from."""

    priors: tuple[RiskPrior, ...]
    groups: tuple[GroupPrior, ...]
    draws: Draws

    @property
    def rows(self) -> list[Array]:
        """Of each risk, shape (n, d)."""
        return self.draws.rows


class Remembered:
    """Ends of stages by their names, the newest first."""

    def __init__(self) -> None:
        self._ends: list[tuple[str, Draws]] = []

    def latest(
        self, asked: Asked, evidence: Evidence, stages: list[Places]
    ) -> tuple[int, Draws | None]:
        """How many stages are done already, and the draws after them."""
        about = repr(asked)
        for done in range(len(stages) - 1, 0, -1):
            name = _name(about, evidence.only(stages[done - 1]))
            if mine := [draws for known, draws in self._ends if known == name]:
                return done, mine[0]
            if data := SHELF.read(name):
                self._remember(name, draws := _unpacked(data))
                return done, draws
        return 0, None

    def keep(self, asked: Asked, evidence: Evidence, draws: Draws) -> None:
        """Remember the end of a stage."""
        name = _name(repr(asked), evidence)
        self._remember(name, draws)
        SHELF.write(name, _packed(draws))

    def _remember(self, name: str, draws: Draws) -> None:
        self._ends = [(name, draws), *self._ends[: _KEPT - 1]]


REMEMBERED = Remembered()


def _name(about: str, evidence: Evidence) -> str:
    """SHA-256 over all that an end depends on: what was asked, and what the runs say."""
    told = [getattr(evidence, field.name) for field in fields(evidence) if field.name != "runs"]
    digest = sha256(f"{np.__version__}\n{about}".encode())
    for each in told:
        for array in each if isinstance(each, tuple) else (each,):
            digest.update(f"\n{array.dtype.str} {array.shape}\n".encode() + array.tobytes())
    return digest.hexdigest()


def _parts(draws: Draws) -> tuple[Sequence[Array], ...]:
    return [draws.typical], draws.rows, draws.groups, draws.boots


def _packed(draws: Draws) -> bytes:
    """How many columns each array has, kind by kind, and all of them side by side."""
    file = BytesIO()
    for part in _parts(draws):
        np.save(file, np.array([array.shape[1] for array in part], np.intp), allow_pickle=False)
    arrays = [array for part in _parts(draws) for array in part]
    np.save(file, np.hstack(arrays), allow_pickle=False)
    return file.getvalue()


def _unpacked(data: bytes) -> Draws:
    file = BytesIO(data)
    widths = [np.load(file, allow_pickle=False) for _ in range(4)]
    arrays = np.load(file, allow_pickle=False)
    ends = np.cumsum(np.concatenate(widths))
    # Sums over rows that lie otherwise in memory would be rounded otherwise.
    found = iter([np.ascontiguousarray(part) for part in np.split(arrays, ends[:-1], axis=1)])
    typical, rows, groups, boots = ([next(found) for _ in part] for part in widths)
    return Draws(rows, typical[0], groups, boots)
