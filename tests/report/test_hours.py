"""Hours between failures, as a claim tells them."""

from dataclasses import replace

from planner import Study
from planner.report.text.confidence import claim_rows
from tests.domain.makers import clock, tables


def test_failures_bound_the_mean_time_from_both_sides() -> None:
    """800 h with 2 failures: 127 h to 2251 h at 90 % (NIST e-Handbook 8.4.5.1, from memory)."""
    study = Study.create(tables(clock()))
    study.record("pass", settings={"clock": 4200})
    best = study.recommendation()
    failed = replace(best, claim=replace(best.claim, hours=800.0, failures=2, boots=5))
    said = dict(claim_rows(study.history.definition, failed))["Hours"]
    assert "800 h there with 2 failures over 5 boots" in said
    assert "or 127 h to 2251 h as an interval" in said
