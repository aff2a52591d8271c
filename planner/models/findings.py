"""What a study may state: the edge of each knob, and the setting to keep."""

from dataclasses import dataclass

from planner.domain.knob import Knob, Setting
from planner.history import History
from planner.models.claim import Claim, claim_for
from planner.models.edge import LEVEL, edge_posterior
from planner.models.edge_search import EdgeSearch
from planner.models.evidence import observations
from planner.models.separation import Separation, separation


@dataclass(frozen=True, slots=True)
class Edge:
    """Where one knob stops holding, the others at the study's values."""

    knob: str
    unit: str
    value: float
    """Median, in the knob's unit; on or between the knob's values, or beyond its range."""
    interval: tuple[float, float]
    """Lower and upper end of the credible interval, in the knob's unit."""
    level: float
    """Credibility of the interval."""
    target: float
    """Probability with which a nominal run passes at the edge."""
    beyond_easy: float
    """Probability that the edge lies beyond the easy end of the range: nothing holds."""
    beyond_hard: float
    """Probability that it lies beyond the hard end: everything in range holds."""
    runs: int
    """Runs that speak of it; 0: this is the prior, in a peak study drawn in a little by where the
    edges of other knobs were found."""
    separation: Separation


@dataclass(frozen=True, slots=True)
class Recommendation:
    """The setting to keep as things stand."""

    settings: Setting
    """A value for every knob; the easiest one permitted where `holds` is false."""
    pass_probability: float
    """Probability that a nominal run passes there."""
    interval: tuple[float, float]
    """Credible interval of that probability, widened to hold it where a small chance of a much
    lower one pulls it out of the interval."""
    expected_loss: float
    """Of keeping it; `planner.models.decision` says what a loss is."""
    holds: bool
    """False where no value in range is likely to hold."""
    claim: Claim
    """What the runs at exactly this setting bear out, and what they owe."""
    at_own_risk: tuple[str, ...]
    """Knobs and derived values above their everyday ceiling."""


def edge_of(history: History, knob: Knob, base: Setting) -> Edge:
    """The edge of `knob` with the other knobs as in `base`."""
    assert knob.grid is not None, knob.name
    posterior = edge_posterior(history, knob, base)
    seen = observations(history, knob, base)
    low, high = sorted(knob.at_hardness(end) for end in posterior.interval())
    passed = [o.hardness for o in seen.elements() if o.failed_by is None]
    failed = [o.hardness for o in seen.elements() if o.failed_by is not None]
    return Edge(
        knob=knob.name,
        unit=knob.unit,
        value=knob.at_hardness(posterior.quantile(0.5)),
        interval=(low, high),
        level=LEVEL,
        target=posterior.grid.target,
        beyond_easy=float(posterior.mass[posterior.grid.edges < 0].sum()),
        beyond_hard=posterior.beyond(posterior.grid.steps),
        runs=seen.total(),
        separation=separation(passed, failed),
    )


def recommend(search: EdgeSearch, kept: float | None) -> Recommendation:
    """What is known of the setting to keep; `kept` is the searched knob's value, None: none."""
    holds = kept is not None
    value = kept if holds else (search.values[0] if search.values else None)
    setting = dict(search.base) if value is None else search.setting(value)
    hardness = search.knob.hardness(float(setting[search.knob.name]))
    chance = search.posterior.chance(hardness)
    low, high = search.posterior.chance_interval(hardness)
    return Recommendation(
        settings=setting,
        pass_probability=chance,
        interval=(min(low, chance), max(high, chance)),
        expected_loss=search.loss_of(kept) if search.values else 0.0,
        holds=holds,
        claim=claim_for(search, setting),
        at_own_risk=search.gate.at_own_risk(setting),
    )
