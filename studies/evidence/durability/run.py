"""Is anything that a command confirmed ever lost or written twice? `python run.py` measures it."""

import argparse
import tempfile
from pathlib import Path

from kills import kill_often
from spoilt import cut_everywhere, cut_power, fill_disk
from writers import write_together


def main() -> None:
    """Run everything and print the table of the README."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--entries", type=int, default=2000)
    parser.add_argument("--tries", type=int, default=200, help="states per call to the disk")
    parser.add_argument("--seed", type=int, default=20261125)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        for part in ("kills", "cuts", "power"):
            (folder / part).mkdir()
        kills = kill_often(folder / "kills", given.kills, given.seed)
        print(
            f"| kill -9, two benches | {kills.kills} kills, {kills.confirmed} confirmed entries |"
            f" {kills.lost} lost, {kills.doubled} doubled, {kills.refused} not opened,"
            f" {kills.mirrors_differ} mirrors that differ;"
            f" slowest first entry after it {kills.longest_wait_s:.2f} s |"
        )
        for writers in (2, 8):
            path = folder / f"shared-{writers}.jsonl"
            shared = write_together(path, writers, given.entries)
            seen = f"{shared.entries} entries in {shared.seconds:.1f} s"
            print(
                f"| {writers} writers at once | {seen} |"
                f" {shared.lost} lost, {shared.doubled} doubled |"
            )
        for name, states in (
            ("cut at every byte", cut_everywhere(folder / "cuts")),
            ("power cut, blocks dropped and reordered", cut_power(folder / "power", given.tries)),
        ):
            print(
                f"| {name} | {states.states} states | {states.opened} opened,"
                f" {states.wrong} with an entry lost or made up |"
            )
        print(f"| disk full, then read-only | 256 kB | {fill_disk(folder)} |")


if __name__ == "__main__":
    main()
