"""Studies that are moved to a server and back: nothing is lost, nothing overwritten."""

from pathlib import Path

import pytest

from planner import Study
from planner.errors import InputError, LedgerDamaged, StudyMissing
from planner.store import move_to_folder, move_to_server, parse_address
from tests.postgres import PASSWORD, bare, server_url
from tests.study.makers import bench_tables, known, on_disk
from tests.study.servers import shared


@pytest.fixture(autouse=True)
def _person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    monkeypatch.setenv("PGPASSWORD", PASSWORD)


def test_a_study_goes_to_a_server_and_back_without_loss(tmp_path: Path) -> None:
    """Byte for byte, the chain whole; what is left behind is kept under another name."""
    url, folder = server_url(), tmp_path / "s"
    study = on_disk(folder)
    study.next()
    study.record("pass", score=7.5, note='an Ω, a \\ and a "')
    study.next()
    before, told, head = (folder / "ledger.jsonl").read_bytes(), known(study.history), study.head
    aside = move_to_server(folder, parse_address(bare(url)))
    assert aside.read_bytes() == before
    with pytest.raises(LedgerDamaged, match="is gone"):
        study.record("pass")
    there = Study.open(folder)
    assert (known(there.history), there.head) == (told, head)
    assert PASSWORD not in (folder / "store.toml").read_text()
    there.record("crash")
    end = there.head
    renamed = move_to_folder(folder)
    back = Study.open(folder)
    assert back.head == end
    assert (folder / "ledger.jsonl").read_bytes().startswith(before)
    assert not (folder / "store.toml").exists()
    kept = url.partition("#")[0] + "#" + renamed.replace(" ", "%20")
    assert Study.open(kept).head == end
    with pytest.raises(LedgerDamaged, match="gone or was changed"):
        there.boot(cold=True)
    with pytest.raises(StudyMissing, match="moved away"):
        Study.open(url)
    back.record("pass", settings={"clock": 4300})


def test_a_move_that_was_cut_off_goes_on(tmp_path: Path, monkeypatch) -> None:
    """Power lost after the server has it, and before the folder knows; and on the way back."""
    url, folder = server_url(), tmp_path / "s"
    on_disk(folder).next()
    head = Study.open(folder).head

    def power_cut(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    for step in ("_compare", "write_store", "_rename"):
        with monkeypatch.context() as cut:
            cut.setattr(f"planner.store.moving.{step}", power_cut)
            with pytest.raises(KeyboardInterrupt):
                move_to_server(folder, parse_address(bare(url)))
        assert Study.open(folder).head == head
    move_to_server(folder, parse_address(bare(url)))
    assert Study.open(folder).head == head
    for step in ("moving._compare", "disk.sync_folder"):
        with monkeypatch.context() as cut:
            cut.setattr(f"planner.store.{step}", power_cut)
            with pytest.raises(KeyboardInterrupt):
                move_to_folder(folder)
        assert Study.open(url).head == head
    with monkeypatch.context() as cut:
        cut.setattr("planner.store.settings._set", power_cut)
        with pytest.raises(KeyboardInterrupt):
            move_to_folder(folder)
    move_to_folder(folder)
    assert Study.open(folder).head == head


def test_a_move_overwrites_nothing(tmp_path: Path) -> None:
    """Another study at the address, another ledger in the folder, two servers: refused as is."""
    url = server_url()
    Study.create(bench_tables(minutes=5), url)
    folder = tmp_path / "s"
    on_disk(folder).next()
    before = (folder / "ledger.jsonl").read_bytes()
    with pytest.raises(StudyMissing, match="holds a study already"):
        move_to_server(folder, parse_address(bare(url)))
    assert (folder / "ledger.jsonl").read_bytes() == before
    assert not (folder / "store.toml").exists()
    shared(folder, url)
    with pytest.raises(StudyMissing, match="there is another ledger"):
        move_to_folder(folder)
    with pytest.raises(InputError, match=r"stands on .* already"):
        move_to_server(folder, parse_address(bare(server_url())))
    assert (folder / "ledger.jsonl").read_bytes() == before
    assert len(Study.open(url).history.definitions) == 1


def test_a_strangers_folder_does_not_reach_a_server(tmp_path: Path) -> None:
    """A store.toml whose server nobody named here is not asked; one letter off is another one."""
    url = server_url()
    Study.create(bench_tables(), url)
    folder = shared(tmp_path / "s", url)
    Study.open(folder)
    text = (folder / "store.toml").read_text().replace("127.0.0.1", "127.0.0.2")
    (folder / "store.toml").write_text(text)
    with pytest.raises(InputError, match=r"store\.toml: .*never named on this machine"):
        Study.open(folder)
