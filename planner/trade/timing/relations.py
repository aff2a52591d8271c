"""Rules between timings: sums that hold in the standard, and which side of them binds.

The controller keeps every timing, so a sum that is longer than the timing set beside it is what
really passes: tRC below tRAS + tRP changes nothing. Such a timing is no fault, only without use;
as rules of a study these are notes.

Sources: JESD79-4 and JESD79-5: what each timing counts from and to (tRC = tRAS + tRP holds in
every bin). tFAW: four activates tRRD_S apart take four times that; common practice, no source.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.expression import Inequality, parse_inequality


@dataclass(frozen=True, slots=True)
class Relation:
    """A timing, and the sum that it should reach to be of use."""

    name: str
    timing: str
    sum: str
    why: str
    """Why the sum passes in any case."""

    @property
    def holds(self) -> Inequality:
        """As a rule of a study."""
        return parse_inequality(f"{self.timing} >= {self.sum}")


@dataclass(frozen=True, slots=True)
class Binding:
    """A relation in figures."""

    relation: Relation
    set_clocks: int
    """The timing as it is set."""
    sum_clocks: int
    """What its sum comes to."""

    @property
    def by_sum(self) -> bool:
        """Whether the sum is what passes, the timing being too short to matter."""
        return self.sum_clocks > self.set_clocks

    @property
    def clocks(self) -> int:
        """What really passes."""
        return max(self.set_clocks, self.sum_clocks)


RELATIONS = (
    Relation("row cycle", "tRC", "tRAS + tRP", "a row is open for tRAS, then its bank closes"),
    Relation("open row", "tRAS", "tRCD + tRTP", "a read keeps its row open until tRTP is over"),
    Relation("four activates", "tFAW", "4 * tRRD_S", "four activates are tRRD_S apart"),
    Relation("bank group activates", "tRRD_L", "tRRD_S", "the same group takes no less"),
    Relation("bank group reads", "tCCD_L", "tCCD_S", "the same group takes no less"),
    Relation("bank group turnaround", "tWTR_L", "tWTR_S", "the same group takes no less"),
)


def bindings(clocks: Mapping[str, int]) -> tuple[Binding, ...]:
    """Every relation that the timings given tell of, in clocks."""
    found = []
    for relation in RELATIONS:
        rule = relation.holds
        if rule.names <= clocks.keys():
            left, right = rule.sides({name: float(clocks[name]) for name in rule.names})
            found.append(Binding(relation, int(left), int(right)))
    return tuple(found)
