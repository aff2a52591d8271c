"""No test writes into the home of who runs it; and which tests are traced.

Coverage is counted by the quick tests: what a slow one repeats need not be traced each time.
"""

from collections.abc import Generator

import pytest
from coverage import Coverage

from planner.models.joint.shelf import SHELF


@pytest.fixture(autouse=True)
def _no_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a person keeps stands elsewhere, and what a command switches on is off again."""
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path_factory.getbasetemp() / "state of nobody"))
    monkeypatch.setattr(SHELF, "folder", None)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tracing doubles the time of a test that plays many evenings, and tells nothing new."""
    for item in items:
        if item.get_closest_marker("slow"):
            item.add_marker("no_cover")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_setup(item: pytest.Item) -> Generator[None, None, None]:
    """The evenings that a slow test's fixtures play are not traced either."""
    tracing = Coverage.current() if item.get_closest_marker("slow") else None
    if tracing is None:
        return (yield)
    tracing.stop()
    try:
        return (yield)
    finally:
        tracing.start()
