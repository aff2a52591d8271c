"""Coverage is counted by the quick tests: what a slow one repeats need not be traced each time."""

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Tracing doubles the time of a test that plays many evenings, and tells nothing new."""
    for item in items:
        if item.get_closest_marker("slow"):
            item.add_marker("no_cover")
