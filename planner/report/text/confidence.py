"""What confirming runs bear out of the setting to keep, and what a claim still takes."""

from math import isinf

from planner.domain.definition import Definition
from planner.models.claim import Claim
from planner.models.edge import LEVEL
from planner.models.findings import Recommendation
from planner.models.plans import LONGER, Hours, Plans
from planner.report.text import phrases
from planner.report.text.layout import labelled, prose
from planner.trade.failure_free import least_mean_time, mean_time_bounds
from planner.trade.reliability import clopper_pearson, success_run

Rows = list[tuple[str, str]]


def claim_rows(definition: Definition, best: Recommendation) -> Rows:
    """How many passes the claim takes, how many are done and owed; and hours between failures."""
    goal, claim = definition.goal, best.claim
    if not best.holds:
        return []
    sure = goal.confidence or LEVEL
    rows = []
    if claim.passes == claim.runs:
        needed = success_run(goal.target, sure)
        owed = "owed" if goal.confidence else "more"
        rows.append(
            (
                "Claim",
                f"{_claim_words(definition, goal.target, sure)}: {needed} passes in a row,"
                f" {claim.passes} done, {max(0, needed - claim.passes)} {owed}",
            )
        )
    return [*rows, *_hours_rows(best, sure)]


def plans_text(
    definition: Definition, best: Recommendation, plans: Plans, hours: Hours | None, width: int
) -> str:
    """Every way to make the claim, with what is done of it."""
    title = f"To claim: {_claim_words(definition, plans.target, plans.confidence)}"
    rows = [("Setting", phrases.setting(definition, best.settings)), *_plan_rows(best, plans)]
    if hours is not None:
        rows += _mean_rows(hours, plans.confidence)
    rows += _hours_rows(best, plans.confidence)
    notes = (
        "Choose one way before its first run and keep to it: changing over when a run fails makes"
        " false claims likelier than stated. Runs must be independent: spread them over several"
        " boots, some cold. A claim is about this machine as it is now."
    )
    return "\n".join([*prose(title, width), "", *labelled(rows, width), "", *prose(notes, width)])


def duration(hours: float) -> str:
    """Hours as people say them: `40 min`, `9.5 h`, `120 h`."""
    if hours < 1:
        return f"{hours * 60:.0f} min" if hours * 60 >= 1 else "under 1 min"
    return f"{hours:.0f} h" if hours >= 99.5 else f"{hours:.2g} h"


def _claim_words(definition: Definition, target: float, sure: float) -> str:
    workload = definition.workload
    length = phrases.minutes(workload.minutes)
    return f"{_percent(target)} of {length} runs of {workload.name} pass, {_percent(sure)} sure"


def _percent(share: float) -> str:
    return f"{100 * share:.4g}%"


def _plan_rows(best: Recommendation, plans: Plans) -> Rows:
    claim = best.claim
    so_far = f"{claim.passes} of {phrases.counted(claim.runs, 'run')} held exactly there"
    if claim.runs:
        low, high = clopper_pearson(claim.passes, claim.runs, plans.confidence)
        sure = _percent(plans.confidence)
        so_far += f": by these alone {low:.0%} to {high:.0%} pass, {sure} sure"
    rows = [("So far", so_far if claim.runs else "not run at exactly this setting yet")]
    if claim.passes == claim.runs:
        row = f"{plans.in_a_row} passes without a failure, {plans.done} done, {plans.owed} owed"
    else:
        row = f"{plans.in_a_row} passes without a failure; cannot be met any more: a run failed"
    rows.append(("In a row", row))
    words = ("one may fail", "two may fail")
    for word, (failures, runs) in zip(words, plans.with_failures, strict=True):
        failed = claim.runs - claim.passes
        left = max(0, runs - claim.runs)
        text = f"{runs} runs in all, if that was fixed beforehand"
        rows.append((word.capitalize(), f"{text}; {left} to go" if failed <= failures else text))
    return [*rows, *_sequential_rows(plans)]


def _sequential_rows(plans: Plans) -> Rows:
    test, bad = plans.run_by_run, 1 - plans.target
    none, one, two = test.accepts
    return [
        (
            "Run by run",
            f"a sequential test accepts after {none} runs if none failed, {one} if one did,"
            f" {two} if two did, and gives up early when more fail. Mean length, counted exactly:"
            f" {test.runs_if_good:.1f} runs where {_percent(test.good)} of them fail,"
            f" {test.runs_if_bad:.1f} where {_percent(bad)} do",
        )
    ]


def _mean_rows(hours: Hours, sure: float) -> Rows:
    none, one, two = (duration(h) for h in hours.needed)
    through = ", ".join(phrases.chance(chance) for chance in hours.chances)
    owed = (
        "a failure is on record, so none of it counts as free of one"
        if isinf(hours.owed)
        else f"{duration(hours.owed)} owed"
        if hours.owed
        else "done"
    )
    return [
        (
            "By hours",
            f"{duration(hours.mean)} between failures, {_percent(sure)} sure: {none} without a"
            f" failure ({owed}), {one} if one may come, {two} if two may;"
            f" what truly holds {duration(LONGER * hours.mean)} comes through with {through}",
        )
    ]


def _hours_rows(best: Recommendation, sure: float) -> Rows:
    """What the hours at exactly that setting bound; nothing while none was run."""
    claim = best.claim
    if not claim.hours:
        return []
    bound = least_mean_time(claim.hours, claim.failures, sure)
    failures = phrases.counted(claim.failures, "failure") if claim.failures else "no failure"
    return [
        (
            "Hours",
            f"{duration(claim.hours)} there with {failures} over"
            f" {phrases.counted(claim.boots, 'boot')}: at least {duration(bound)} between failures,"
            f" {_percent(sure)} sure{_both_sides(claim, sure)}, if they come at a constant rate",
        )
    ]


def _both_sides(claim: Claim, sure: float) -> str:
    """Where failures bound the mean time from above as well, both bounds."""
    if not claim.failures:
        return ""
    low, high = mean_time_bounds(claim.hours, claim.failures, sure)
    return f", or {duration(low)} to {duration(high)} as an interval"
