"""A made-up machine for tests, as commands: `python rig.py JOB ...`, its state in files beside it.

It holds up to a clock. Above that it does what `failing` says: exits, dies, hangs, goes down.
Needs nothing but the standard library, and starts fast.
"""

import json
import os
import signal
import sys
import time
from pathlib import Path

HERE = Path(__file__).parent
STATE = HERE / "rig.json"


def state() -> dict:
    """What the machine is at."""
    return json.loads(STATE.read_text())


def change(**what) -> None:
    """Put it into another state."""
    fresh = HERE / f"rig.{os.getpid()}"
    fresh.write_text(json.dumps({**state(), **what}))
    os.replace(fresh, STATE)


def note(what: str) -> None:
    """Write down that something was done."""
    with (HERE / "done.txt").open("a") as file:
        file.write(what + "\n")


def apply() -> None:
    """Set the values that the environment tells."""
    clock = float(os.environ["PLANNER_SET_clock"])  # noqa: SIM112  # as the knob is called
    note(f"apply {clock:g}")
    if clock > state().get("starts", 1e9):
        change(down=True)
    if clock > state().get("dies", 1e9):
        change(down=True)
        sys.exit("connection lost")
    change(clock=clock)


def restore() -> None:
    """Bring stock back."""
    note("restore")
    if state().get("down"):
        sys.exit("no answer")
    change(clock=state()["stock"])


def reset() -> None:
    """Power-cycle."""
    note("reset")
    if not state().get("dead"):
        change(down=False, boots=state().get("boots", 0) + 1, clock=state()["stock"])


def beat() -> None:
    """Answer, if it is up, with the boot."""
    if state().get("down"):
        sys.exit(1)
    print("boot", state().get("boots", 0))


def probe() -> None:
    """Print what the sensors say."""
    now = state()
    if now.get("lost") and now["clock"] > now["edge"]:
        print("~~~ \x1b[2J NaN")
        return
    hot = now.get("hot", 60) if now["clock"] > now["edge"] else 60
    print(f"hotspot = {hot} C\nother = x")


def load() -> None:
    """Run the workload."""
    now = state()
    note(f"load {now['clock']:g}")
    time.sleep(now.get("length", 0.0))
    print(f"score: {now['clock'] * 2}", flush=True)
    if now["clock"] > now["edge"]:
        FAILURES[now["failing"]]()


def hang() -> None:
    """Never come back."""
    note("hang")
    time.sleep(60)


def go_down() -> None:
    """Stop answering, and never come back."""
    change(down=True)
    hang()


def restart() -> None:
    """Come up anew by itself, the workload gone with it."""
    change(boots=state().get("boots", 0) + 1)
    sys.exit(255)


def die(name: str) -> None:
    """End by a signal."""
    os.kill(os.getpid(), getattr(signal, name))
    time.sleep(60)


def flood() -> None:
    """Print far more than anybody wants."""
    line = b"x" * 1023 + b"\n"
    for _ in range(8 * 1024):
        os.write(1, line)
    sys.exit(1)


def garbage() -> None:
    """Print what is no text."""
    os.write(1, bytes(range(256)) * 8 + b"\nscore: nan\nscore: 1e999\nscore: -\n")
    sys.exit(1)


FAILURES = {
    "exits": lambda: sys.exit(3),
    "segv": lambda: die("SIGSEGV"),
    "killed": lambda: die("SIGKILL"),
    "hangs": hang,
    "down": go_down,
    "restarts": restart,
    "floods": flood,
    "garbage": garbage,
    "hot": hang,
}

if __name__ == "__main__":
    {"apply": apply, "restore": restore, "reset": reset, "beat": beat, "probe": probe}.get(
        sys.argv[1], load
    )()
