"""What was told between the runs, and after how many of them."""

from planner import Study
from planner.domain.event import Kind
from tests.study.makers import bench_tables


def marks(study: Study) -> list[tuple[Kind, int, str]]:
    """Kind, runs before it, and what was told; the first definition left out."""
    return [(m.kind, m.after, m.what) for m in study.history.milestones[1:]]


def told() -> Study:
    """A void run first, so that it would show if it counted."""
    study = Study.create(bench_tables())
    study.record("void", settings={"clock": 5000})
    study.record("pass", settings={"clock": 5000})
    study.changed("firmware 2", ["core"])
    study.accept_risk("volts", 1.28)
    study.record("crash", settings={"clock": 5200})
    study.close("late")
    study.reopen()
    return study


def test_each_stands_after_the_runs_that_count() -> None:
    """A void run is none of them."""
    assert marks(told()) == [
        (Kind.CHANGED, 1, "firmware 2"),
        (Kind.ACCEPTED, 1, "volts"),
        (Kind.CLOSED, 2, "late"),
        (Kind.REOPENED, 2, ""),
    ]
    assert told().history.milestones[0].kind is Kind.DEFINED
    assert told().history.milestones[2].up_to == 1.28


def test_a_run_struck_later_moves_them() -> None:
    """As if it had never been made."""
    study = told()
    study.amend(2, outcome="void")
    assert [after for _, after, _ in marks(study)] == [0, 0, 1, 1]
