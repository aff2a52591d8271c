"""A study on a server from the command line: new, join, move, and no password anywhere."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.typed import ledger, made, planner, told
from tests.postgres import PASSWORD, bare, server_url

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def _person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))


@pytest.fixture
def address(monkeypatch: pytest.MonkeyPatch) -> str:
    """Of a study that is not there yet; the password is in the environment."""
    monkeypatch.setenv("PGPASSWORD", PASSWORD)
    return bare(server_url())


def test_two_benches_share_a_study(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Made on one, joined on another: runs of both are on record for both."""
    told("new", "box", "--store", address)
    assert not Path("studies/box/ledger.jsonl").exists()
    told("record", "pass", "--as-is", "-s", "box")
    monkeypatch.setenv("PLANNER_BENCH", "right")
    joined = told("join", "other", address).output
    assert "1 run on record" in joined
    assert "Run 2" in told("next", "other").stdout
    told("record", "crash", "-s", "other")
    monkeypatch.setenv("PLANNER_BENCH", "left")
    assert "2 runs" in told("check", "box").stdout
    assert planner("join", "other", address).exit_code == 0
    assert planner("join", "box", bare(server_url())).exit_code == 2


def test_a_study_moves_there_and_back(address: str) -> None:
    """The head that was printed before is held at each place, and the old lines are kept."""
    folder = made()
    told("record", "pass", "--as-is")
    before = ledger(folder)
    told_head = json.loads(told("check", "box", "--json").stdout)["head"]
    head = f"{told_head['seq']}:{told_head['chain'][:16]}"
    moved = told("move", "box", address)
    assert head in moved.stdout
    assert (folder / "ledger.moved-1.jsonl").read_bytes() == before
    assert told("check", "box", "--head", head).exit_code == 0
    assert planner("move", "box", "folder").exit_code == 0
    assert ledger(folder) == before
    assert told("check", "box", "--head", head).exit_code == 0
    again = planner("move", "box", "folder")
    assert (again.exit_code, "in its folder already" in again.stderr) == (2, True)


def test_no_password_is_shown_or_kept(tmp_path: Path) -> None:
    """Typed where it should not be, it is refused and masked; no file holds it."""
    url, folder = server_url(), made()
    for typed in (
        ("new", "other", "--store", url),
        ("join", "other", url),
        ("move", "box", url),
        ("show", url),
        ("new", url),
        ("next", "-s", url),
    ):
        refused = planner(*typed)
        assert refused.exit_code == 2, refused.output
        assert PASSWORD not in refused.output
    assert (folder / "ledger.jsonl").exists()
    kept = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert [path for path in kept if PASSWORD.encode() in path.read_bytes()] == []


def test_a_folder_from_elsewhere_must_be_joined_first(address: str, monkeypatch) -> None:
    """Its server is not asked before the person has named it; joining says so and goes on."""
    told("new", "box", "--store", address)
    monkeypatch.setenv("PLANNER_STATE", str(Path("another person").resolve()))
    refused = planner("next", "box")
    assert refused.exit_code == 2
    assert "never named on this machine" in refused.stderr
    told("join", "box", address)
    told("next", "box")


@pytest.mark.parametrize("command", ["move", "join"])
def test_a_target_that_is_none_is_told(command: str) -> None:
    """Neither an address nor the word; nothing is made."""
    made()
    name = "box" if command == "move" else "other"
    for wrong in ("elsewhere", "http://host/x#y", "postgresql://host"):
        refused = planner(command, name, wrong)
        assert refused.exit_code == 2, refused.output
        assert "expected" in refused.stderr
    assert not Path("studies/other").exists()


def test_without_the_driver_a_study_in_a_folder_works_and_a_server_is_told() -> None:
    """Nobody needs SQL for a file; where it is needed, the message says what to install."""
    code = (
        "import sys; sys.modules['psycopg'] = None; sys.modules['sqlalchemy'] = None\n"
        "from planner.cli import main; main()"
    )

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        command = [sys.executable, "-c", code, *arguments]
        env = os.environ | {"PYTHONPATH": str(ROOT)}
        return subprocess.run(command, text=True, capture_output=True, env=env)

    assert run("new", "box").returncode == 0
    refused = run("join", "other", "postgresql://u@127.0.0.1:1/db#s")
    assert refused.returncode == 2
    assert "pip install 'bench-planner[server]'" in refused.stderr
