"""The score of a run, from a file that its workload wrote."""

import json
from pathlib import Path

import pytest

from planner.domain.outcome import Outcome
from tests.driving.benches import python, run


def test_scores_from_a_file(tmp_path: Path) -> None:
    """With sub-scores; a file that an earlier run left is not read again."""
    told = json.dumps({"score": 21, "subscores": {"shade": 4.5}})
    result = run(tmp_path, workload=python(f"open('s', 'w').write({told!r})"), score_file="s")
    assert (result.facts["score"], result.facts["subscores"]) == (21, {"shade": 4.5})
    other = tmp_path / "other"
    other.mkdir()
    (other / "s").write_text(told, encoding="ascii")
    stale = run(other, score_file="s")
    assert stale.facts["note"] == "s was not written"
    assert "score" not in stale.facts


@pytest.mark.parametrize("text", ["", "[]", '{"score": "high"}', '{"score": NaN}', "[" * 99_999])
def test_a_score_file_that_is_none(tmp_path: Path, text: str) -> None:
    """The pass stands; the note says what was expected."""
    (tmp_path / "text").write_text(text, encoding="ascii")
    copy = python("open('s', 'w').write(open('text').read())")
    result = run(tmp_path, workload=copy, score_file="s")
    assert result.outcome is Outcome.PASS
    assert "expected a score" in result.facts["note"]


def test_a_score_file_outside_is_not_read(tmp_path: Path) -> None:
    """Not by way of a link either."""
    home = tmp_path / "home"
    home.mkdir()
    (tmp_path / "away").write_text('{"score": 1}', encoding="ascii")
    result = run(home, workload=python("import os; os.symlink('../away', 's')"), score_file="s")
    assert result.facts["note"] == "s is no file inside the study's folder"
