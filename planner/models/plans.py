"""What it takes to claim that a setting holds: plans of confirming runs, and where one stands."""

from dataclasses import dataclass

from planner.models.claim import Claim
from planner.trade.failure_free import hours_factor, plan_risks
from planner.trade.reliability import runs_needed, success_run
from planner.trade.sequential import SequentialTest

_BETTER = 10
"""A sequential test tells failing so often from failing a tenth as often."""
LONGER = 3
"""Times the mean to be shown, at which a plan's chance is told: MIL-HDBK-781A discriminates so."""


@dataclass(frozen=True, slots=True)
class RunByRun:
    """A sequential test that accepts what the claim just excludes with one less the confidence."""

    good: float
    """Failure probability that it should accept."""
    accepts: tuple[int, ...]
    """Runs with which it accepts after 0, 1, 2 failures."""
    runs_if_good: float
    """Mean number of runs until it decides, exact, where it fails so seldom."""
    runs_if_bad: float
    """The same where it fails as often as the claim just excludes."""
    wrongly: float
    """Exact chance that it accepts what fails as often as the claim just excludes."""


@dataclass(frozen=True, slots=True)
class Plans:
    """Ways to claim that nominal runs pass at least with `target`, at `confidence`."""

    target: float
    confidence: float
    in_a_row: int
    """Passes without a failure."""
    done: int
    """Passes at the setting so far, none where one failed."""
    with_failures: tuple[tuple[int, int], ...]
    """How many may fail, and how many runs that takes in all, fixed beforehand."""
    run_by_run: RunByRun

    @property
    def owed(self) -> int:
        """Passes in a row still to be made."""
        return max(0, self.in_a_row - self.done)


@dataclass(frozen=True, slots=True)
class Hours:
    """What it takes to claim a mean time between failures."""

    mean: float
    """Hours to be shown."""
    needed: tuple[float, ...]
    """Hours to run with 0, 1, 2 failures, fixed beforehand."""
    chances: tuple[float, ...]
    """That what truly holds `LONGER` times the mean comes through each of these."""
    owed: float
    """Hours without a failure still to be run; infinite where one failed."""


def plans_for(claim: Claim, target: float, confidence: float) -> Plans:
    """The plans for what is known of one setting.

    Raises:
        ValueError: a probability not strictly between 0 and 1.
    """
    return Plans(
        target=target,
        confidence=confidence,
        in_a_row=success_run(target, confidence),
        done=claim.passes if claim.passes == claim.runs else 0,
        with_failures=tuple((f, runs_needed(target, confidence, f)) for f in (1, 2)),
        run_by_run=_run_by_run(1 - target, min(1 - confidence, 0.49)),
    )


def _run_by_run(bad: float, risk: float) -> RunByRun:
    """The test whose exact chance to accept what is bad stays under `risk`."""
    beta = risk
    while True:
        test = SequentialTest(bad / _BETTER, bad, risk, beta)
        course = test.course(bad)
        if course.accepts <= risk + 1e-12:
            break
        beta *= 0.95  # the nominal risk is passed where runs come in whole numbers
    return RunByRun(
        good=test.good,
        accepts=tuple(test.runs_to_accept(f) for f in range(3)),
        runs_if_good=test.course(test.good).runs,
        runs_if_bad=course.runs,
        wrongly=course.accepts,
    )


def hours_for(claim: Claim, mean: float, confidence: float) -> Hours:
    """What it takes to claim at least `mean` hours between failures.

    Raises:
        ValueError: a confidence not strictly between 0 and 1.
    """
    factors = [hours_factor(failures, confidence) for failures in range(3)]
    needed = tuple(mean * factor for factor in factors)
    chances = tuple(1 - plan_risks(f, LONGER, allowed + 1)[0] for allowed, f in enumerate(factors))
    owed = float("inf") if claim.failures else max(0.0, needed[0] - claim.hours)
    return Hours(mean, needed, chances, owed)
