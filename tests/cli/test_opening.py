"""What opening a study for a command sets in this process."""

import os

import pytest

from planner.cli.studies import open_for_an_evening, open_study
from tests.cli.typed import made

THREADS = "OPENBLAS_NUM_THREADS"


def test_one_thread_for_what_is_over_in_a_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    """What `drive` starts inherits no such thing, and what the person has set stands."""
    made()
    monkeypatch.setenv(THREADS, "")
    monkeypatch.delenv(THREADS)
    open_for_an_evening("box")
    assert THREADS not in os.environ
    open_study("box")
    assert os.environ[THREADS] == "1"
    monkeypatch.setenv(THREADS, "4")
    open_study("box")
    assert os.environ[THREADS] == "4"
