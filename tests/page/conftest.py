"""A study on disk, and the page on it through a WSGI client that says where it comes from."""

from pathlib import Path

import pytest

from planner.study import Study
from tests.cli.typed import STUDY
from tests.page.visit import Visit


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The folder of a study of one searched knob."""
    text = STUDY.replace('name = "load"\n', 'name = "load"\nscored = true\n')
    (tmp_path / "study.toml").write_text(text, encoding="utf-8")
    Study.open(tmp_path)
    return tmp_path


@pytest.fixture
def visit(folder: Path) -> Visit:
    """A browser at the page."""
    return Visit(folder)
