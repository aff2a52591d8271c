"""What every aim answers, for one history after another."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, Protocol, TypeVar

from planner.domain.knob import Harder, Setting
from planner.domain.terms import USUAL, Terms
from planner.errors import RecordError
from planner.gate import Gate
from planner.history import History
from planner.models.findings import Edge, Recommendation, edge_of
from planner.models.scores.answering import Ways
from planner.proposing import Asked, proposal_entry

if TYPE_CHECKING:
    from planner.peak.alternatives import Alternative

Body = dict[str, Any]


class Search(Protocol):
    """A search that a later history can take over."""

    @property
    def history(self) -> History:
        """All that it is determined by."""
        ...

    @property
    def gate(self) -> Gate:
        """What may be proposed."""
        ...


S = TypeVar("S", bound=Search)


class Kept(Generic[S]):
    """The last search on each terms; worked out anew only for new runs."""

    def __init__(self, begin: Callable[[History, Terms], S], carry: Callable[[S, History], S]):
        """`begin` makes a search; `carry` takes one over to a history that tells no more runs."""
        self._begin, self._carry = begin, carry
        self._known: dict[Terms, S] = {}

    def of(self, history: History, terms: Terms = USUAL) -> S:
        """The search under `history`."""
        known = self._known.get(terms)
        if known is None or known.history.told != history.told:
            known = self._begin(history, terms)
        elif known.history is not history:
            known = self._carry(known, history)
        self._known[terms] = known
        return known


@dataclass(frozen=True)
class Answers(Generic[S]):
    """The answers of one aim, from its search."""

    searches: Kept[S]
    closing_reason: Callable[[S], str | None]
    asked: Callable[[S], Asked | None]
    nothing_left: str
    """The reason to close where there is nothing to ask for."""
    kept: Callable[[S], Recommendation]
    edges_of: Callable[[S], dict[str, Edge]]
    ways_of: Callable[[S], Ways]
    others: "Callable[[S, int], list[Alternative]] | None" = None
    """So many settings beside the one to ask for; None: this aim has none to choose from."""

    def next_entry(
        self, history: History, boot_mark: str, terms: Terms = USUAL
    ) -> tuple[Body | None, str]:
        """The body of the entry that asks for the next run, or None and the reason to close.

        Raises:
            DefinitionError: no knob with a range.
            RecordError: terms that cannot be kept to.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        search = self.searches.of(history, terms)
        if reason := self.closing_reason(search):
            return None, reason
        chosen = self.asked(search)
        if chosen is None:
            return None, self.nothing_left
        return proposal_entry(history, search.gate, chosen, boot_mark, terms), ""

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        return self.closing_reason(self.searches.of(history))

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The setting to keep as things stand."""
        return self.kept(self.searches.of(history, Terms(everyday_only)))

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob with a range, the others at the study's values."""
        return self.edges_of(self.searches.of(history))

    def alternatives(self, history: History, count: int, terms: Terms) -> "list[Alternative]":
        """Settings that may be run instead of the one proposed.

        Raises:
            RecordError: this aim has none to choose from.
        """
        if self.others is None:
            raise _of_many("alternatives", history)
        return self.others(self.searches.of(history, terms), count)

    def ways(self, history: History) -> Ways:
        """What the search says of the ways to a score."""
        return self.ways_of(self.searches.of(history))


def edges_beside(history: History, base: Setting) -> dict[str, Edge]:
    """The edge of every knob with a range, the others as in `base`."""
    knobs = history.definition.knobs.values()
    return {k.name: edge_of(history, k, base) for k in knobs if k.harder is not Harder.CHOICE}


def one_knob(history: History, terms: Terms) -> None:
    """Refuse terms that only a search over many knobs can keep to.

    Raises:
        RecordError: they name groups, a run to start from or a number of changes.
    """
    if terms.of_the_search:
        raise _of_many("only, from and max-changes narrow a search over many knobs", history)


def _of_many(what: str, history: History) -> RecordError:
    """What only an aim over many knobs knows."""
    aim = history.definition.goal.aim
    return RecordError(f"{what}: expected aim peak, everyday or trim, this study's is {aim}")
