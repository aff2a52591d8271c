"""All that a study tells; what changes it stands in `planner.study`."""

from functools import cached_property
from typing import TYPE_CHECKING

from planner.bench import bench_name
from planner.domain.ledger import Head
from planner.domain.run import Proposal
from planner.domain.terms import USUAL, Terms
from planner.history import History
from planner.journal import Journal
from planner.store import Place, contains

if TYPE_CHECKING:
    from planner.models.findings import Edge, Recommendation
    from planner.models.frontier.findings import Frontier
    from planner.models.scores.gap import Beat, GapTable
    from planner.peak.alternatives import Alternative
    from planner.peak.blame import Blame
    from planner.peak.forecast import Forecast
    from planner.peak.samples import SampleEdge
    from planner.searching import Searching


class ReadStudy:
    """What its ledger holds, and what the model makes of that."""

    def __init__(self, place: Place) -> None:
        """Use `create` or `open`."""
        self._place = place
        self._journal = Journal(place.ledger, bench_name())

    def hold(self) -> None:
        """Look at the ledger once, and again only after an entry of one's own.

        For a program that is over in a moment: all that it tells then is of one state, and a
        server is asked once. What it writes is still held against what others wrote.
        """
        self._journal.hold()

    @property
    def bench(self) -> str:
        """The name under which this object writes; a pending proposal belongs to one bench."""
        return self._journal.bench

    @property
    def history(self) -> History:
        """All that the ledger tells, other writers' entries included."""
        return self._journal.history

    @property
    def head(self) -> Head:
        """The last entry of the ledger; given away, it later shows a lost tail or a rewrite."""
        return self._journal.head

    def holds(self, seq: int, digits: str) -> bool:
        """Whether the ledger still has entry `seq`, with a chain that begins with `digits`."""
        ledger = self._place.ledger
        chain = ledger.chain_at(seq) or ""
        return contains(ledger, Head(seq, chain if chain.startswith(digits) else digits))

    @property
    def warning(self) -> str | None:
        """What a person should be told of the ledger, as a torn last line; None: nothing."""
        return self._place.warning

    @property
    def pending(self) -> Proposal | None:
        """This bench's proposal that is not yet answered, or None."""
        history = self.history
        pending = history.pending.get(self.bench)
        return None if pending is None else history.against_machine(pending)

    def closing(self) -> str | None:
        """The reason to close, in a sentence with its figures; None while runs are worth making."""
        return self._searching.closing(self.history)

    def recommendation(self, everyday_only: bool = False) -> "Recommendation":
        """The setting to keep as things stand; `everyday_only` ignores accepted risks."""
        return self._searching.recommendation(self.history, everyday_only)

    def alternatives(self, count: int = 2, terms: Terms = USUAL) -> "list[Alternative]":
        """Settings that may be run instead of the one proposed, the best first.

        Raises:
            RecordError: the aim is not `peak`, `everyday` or `trim`.
        """
        return self._searching.alternatives(self.history, count, terms)

    def forecast(self, minutes: float | None = None) -> "Forecast":
        """How an evening may go on; `minutes`: how far ahead, None: what is left of it.

        Raises:
            RecordError: the aim is not `peak`, or nothing scored yet.
        """
        return self._searching.forecast(self.history, minutes)

    def edges(self) -> "dict[str, Edge]":
        """The edge of every knob with a range, the others at the study's values."""
        return self._searching.edges(self.history)

    def frontier(self) -> "Frontier":
        """The edge of the study's knob along its second one (`along` in [study]).

        Raises:
            DefinitionError: there is no second knob, or one of the two has no range.
        """
        return self._searching.traced(self.history)

    def sample(self) -> "dict[str, SampleEdge]":
        """The edge of each knob that some run speaks of, supports at stock, for other samples."""
        return self._searching.sample(self.history)

    def blame(self, run: int) -> "Blame":
        """Which knob a failed run is blamed on, and what single run would best tell them apart.

        Raises:
            RecordError: no such run, or it did not fail.
        """
        return self._searching.blame(self.history, run)

    def gap(self, workload: str | None = None, beat: "Beat" = ()) -> "GapTable | None":
        """How far the best score is from study.toml's to beat and `beat`; None: nothing scored.

        Raises:
            InputError: no such workload.
        """
        return self._searching.gap(self.history, workload, beat)

    @cached_property
    def _searching(self) -> "Searching":
        from planner.searching import Searching  # brings numpy, which `record` can do without

        return Searching()
