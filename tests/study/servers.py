"""Studies that stand on a server."""

from pathlib import Path

from planner.store import parse_address, remember, write_store
from tests.postgres import bare


def shared(folder: Path, url: str) -> Path:
    """A folder here whose study stands there."""
    folder.mkdir(exist_ok=True)
    remember(parse_address(bare(url)))
    write_store(folder, parse_address(bare(url)))
    return folder
