"""What stands on a settings sheet: frozen, and the same for every way of writing it down."""

from dataclasses import dataclass

from planner.domain.knob import Knob
from planner.domain.ledger import Head
from planner.domain.tables import Part, Rig
from planner.models.frontier.findings import Frontier
from planner.report.sheet.claimed import Claimed, Evidence
from planner.report.sheet.line import Line
from planner.report.written.blocks import Attached
from planner.trade.cost import Cost, cost_of


@dataclass(frozen=True, slots=True)
class Kept:
    """A setting to keep, as the search stands."""

    lines: tuple[Line, ...]
    at_own_risk: tuple[str, ...]
    holds: bool
    """False where none is likely to hold; the setting is then the easiest permitted one."""
    pass_probability: float
    """Probability that a nominal run passes there, by the model."""
    interval: tuple[float, float]
    """Credible interval of that probability."""
    level: float
    """Credibility of the interval."""
    evidence: Evidence
    passes_owed: int
    cold_boots_owed: int
    spoilt: bool
    """Whether a failed run rules the claim out that was asked for."""


@dataclass(frozen=True, slots=True)
class CeilingLine:
    """Ceilings of one knob or derived value, in its unit."""

    name: str
    unit: str
    everyday: float | None
    own_risk: float | None
    hard_stop: float | None
    stock_holds: bool
    """Whether everyday was left blank, so that nothing above stock is proposed."""
    accepted: float | None
    """Up to where the person accepted the risk."""


@dataclass(frozen=True, slots=True)
class Traced:
    """A frontier with the two knobs that it is of."""

    knob: Knob
    along: Knob
    found: Frontier


@dataclass(frozen=True, slots=True)
class Search:
    """What the search came to."""

    target: float
    """Probability with which a nominal run passes at a sound value."""
    workload: str
    nominal_minutes: float
    confidence: float | None
    """Confidence of the claim that confirming runs must reach; None: none was asked for."""
    cold_boots: int
    """Cold boots that their passes must be spread over."""
    reason: str
    """Why it has ended; empty: further runs are worth making."""
    kept: tuple[Kept, ...]
    """The setting to keep; a second one is the everyday one beside it."""
    traced: Traced | None = None
    """The frontier, where that is the aim."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything on a settings sheet."""

    study: str
    aim: str
    knob: str
    """The searched knob; empty: the study has none with a range, or is after no single one."""
    along: str
    """The second knob of a frontier; empty: the aim is another."""
    days: tuple[str, ...]
    """UTC days of the runs that count, as recorded, ascending."""
    runs: int
    """Runs that count; void ones do not."""
    void_runs: int
    failed_runs: int
    minutes: float
    """Bench minutes of the runs that count."""
    rig: Rig
    changes: tuple[str, ...]
    """Told changes of the machine, oldest first."""
    claims: tuple[Claimed, ...]
    unclaimed: int
    """Recorded scores that cannot be claimed: capped, void, or of a run that did not pass."""
    search: Search | None
    """None where no knob has a range."""
    ceilings: tuple[CeilingLine, ...]
    attached: tuple[Attached, ...]
    head: Head

    @property
    def parts(self) -> tuple[Part, ...]:
        """What the rig is made of."""
        return self.rig.parts

    @property
    def cost(self) -> Cost | None:
        """Total of the prices that are told, and its bracket; None: no price is told."""
        return cost_of([part.price for part in self.parts], dict(self.rig.cost_brackets))

    @property
    def risky(self) -> bool:
        """Whether anything on the sheet lies above an everyday ceiling."""
        kept = self.search.kept if self.search else ()
        return any(c.at_own_risk for c in self.claims) or any(k.at_own_risk for k in kept)
