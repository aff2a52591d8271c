"""Records what was planned, one ledger entry a run: what is recorded stays, whatever comes."""

from collections.abc import Iterator

from planner.domain.run import Run
from planner.errors import RecordError
from planner.importing.plan import Plan
from planner.study import Study


def record_planned(study: Study, plan: Plan) -> Iterator[Run]:
    """Record run after run, each on disk when it is given.

    Raises:
        RecordError: another window asked for a run meanwhile, or told of runs that now speak
            against a row; the runs given before are recorded.
    """
    for run in plan.runs:
        if (pending := study.pending) is not None:
            raise RecordError(
                f"run {pending.number} is pending since another window asked for it: tell how it"
                " ended first, so that no row is taken for its answer"
            )
        yield study.record(run.outcome, settings=run.settings, **run.facts)
