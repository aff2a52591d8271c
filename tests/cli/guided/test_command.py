"""`planner guide` as a command: its streams, its exit codes, pipes and terminals."""

import os
import select
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from tests.cli.typed import STUDY, made, planner, told

ROOT = Path(__file__).resolve().parents[3]
SCORED = STUDY.replace("minutes = 10\n", "minutes = 10\nscored = true\n")


def test_piped_lines_are_shown_where_they_were_typed() -> None:
    """All on one stream in its order, so that a log reads as the screen would."""
    made(text=SCORED)
    session = planner("guide", typed="foo\nc 85s\np 1000\n")
    assert session.stderr == ""
    told_of = [
        "run 1> foo",
        "'foo' is not understood",
        "run 1> c 85s",
        "Run 1 recorded",
        "run 2> p",
    ]
    places = [session.stdout.index(text) for text in told_of]
    assert places == sorted(places)


def test_the_run_is_shown_as_next_shows_it() -> None:
    """Line by line, down to the rows on how to answer."""
    made(text=SCORED)
    shown = told("next").stdout.partition("Answer")[0]
    assert shown in planner("guide").stdout
    told("record", "crash", "--failed-after", "85s")
    told("accept-risk", "volts", "--up-to", "1.3")
    shown = told("next").stdout.partition("Answer")[0]
    assert shown in planner("guide").stdout


def test_the_exit_code_is_that_of_next() -> None:
    """0 while runs are left, 3 once closed, 2 where study.toml or the study is at fault."""
    folder = made()
    assert planner("guide").exit_code == 0
    (folder / "study.toml").write_text("[study", encoding="utf-8")
    assert planner("guide", typed="p\n").exit_code == 2
    (folder / "study.toml").write_text(STUDY, encoding="utf-8")
    told("close")
    assert planner("guide").exit_code == 3
    assert planner("guide", "nowhere").exit_code == 2


def test_a_spoilt_ledger_ends_it() -> None:
    """As it ends every command: exit code 6, and no byte changes."""
    folder = made()
    told("next")
    spoilt = (folder / "ledger.jsonl").read_bytes().replace(b'"run":1', b'"run":7')
    (folder / "ledger.jsonl").write_bytes(spoilt)
    ended = planner("guide", typed="p\n")
    assert ended.exit_code == 6
    assert "damaged" in ended.stderr
    assert (folder / "ledger.jsonl").read_bytes() == spoilt


def test_an_interrupt_leaves_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C at the prompt: what is pending is said, exit code 130, and the run stays pending."""

    def interrupted(prompt: str) -> str:
        raise KeyboardInterrupt

    made()
    monkeypatch.setattr("planner.cli.guide._asked", interrupted)
    left = planner("guide")
    assert left.exit_code == 130
    assert "is pending, all before it is on record" in " ".join(left.stdout.split())
    assert "Pending" in told("show").stdout


def test_plot_draws_the_usual_picture() -> None:
    """In the study's folder, and says where."""
    folder = made()
    said = planner("guide", typed="own p\nplot\n").stdout
    picture = folder / "pictures" / "edge.png"
    assert str(picture) in said
    assert picture.read_bytes().startswith(b"\x89PNG")


def piped(typed: bytes, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own, fed these bytes."""
    return subprocess.run(
        [sys.executable, "-m", "planner", "guide"],
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        input=typed,
        capture_output=True,
        check=False,
    )


@pytest.mark.parametrize("encoding", ["utf-8", "cp437", "ascii"])
def test_bytes_that_are_no_text_are_not_understood(encoding: str) -> None:
    """They are complained about, and the next line counts; no traceback, no control character."""
    made()
    session = piped(b"\xff\xfe\x00\x1b[2Jp\nc 85s\r\n", PYTHONIOENCODING=encoding)
    assert (session.returncode, session.stderr) == (0, b"")
    assert b"Nothing was recorded" in session.stdout
    assert b"Run 1 recorded: crash after 85 s" in session.stdout
    assert b"\x1b" not in session.stdout


def test_without_any_input_it_ends() -> None:
    """No loop at the end of input; the run asked for is pending."""
    made()
    session = piped(b"")
    assert session.returncode == 0
    assert b"is pending" in session.stdout


_PATIENCE_S = 60
"""Nothing takes so long; a test that waits in vain fails instead of hanging."""


class Terminal:
    """`planner guide` at a terminal of its own."""

    def __init__(self, *python: str) -> None:
        """`python`: what Python is told to run before the word `guide`."""
        import pty

        self.end, inside = pty.openpty()
        self.process = subprocess.Popen(
            [sys.executable, *(python or ("-m", "planner")), "guide"],
            env={**os.environ, "PYTHONPATH": str(ROOT), "TERM": "dumb", "NO_COLOR": "1"},
            stdin=inside,
            stdout=inside,
            stderr=inside,
            start_new_session=True,
            # A shell ignores interrupts for what runs behind it, and children inherit that.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
        os.close(inside)
        self.said = b""

    def until(self, *prompts: bytes) -> bytes:
        """Read until one of the prompts stands at the end; gives that one."""
        while not self.said.endswith(prompts):
            self.said += self.read()
        return next(prompt for prompt in prompts if self.said.endswith(prompt))

    def read(self) -> bytes:
        """What it says next; nothing where it has ended."""
        ready, _, _ = select.select([self.end], [], [], _PATIENCE_S)
        assert ready, f"it waits for something else: {self.said!r}"
        return os.read(self.end, 4096)

    def type(self, text: bytes) -> None:
        """Press these keys."""
        os.write(self.end, text)

    def code(self) -> int:
        """The exit code, once it has ended."""
        with suppress(OSError):  # how Linux tells that the other side is closed
            while read := self.read():
                self.said += read
        os.close(self.end)
        return self.process.wait()


@pytest.fixture
def terminal() -> Terminal:
    """One, where the system has such terminals."""
    pytest.importorskip("pty", reason="needs a terminal as POSIX has them")
    made()
    return Terminal()


def test_control_d_leaves(terminal: Terminal) -> None:
    """With exit code 0, and a line on what is pending."""
    terminal.until(b"run 1> ")
    terminal.type(b"\x04")
    assert terminal.code() == 0
    assert b"Nothing is lost" in b" ".join(terminal.said.split())


def test_control_c_leaves(terminal: Terminal) -> None:
    """With exit code 130; what was typed before is on record, and stands on the screen once."""
    terminal.until(b"run 1> ")
    terminal.type(b"v\n")
    # An answer that comes at once is asked about; on a slow machine it does not come at once.
    if terminal.until(b"sure? y or n> ", b"run 2> ") != b"run 2> ":
        terminal.type(b"y\n")
        terminal.until(b"run 2> ")
        assert terminal.said.count(b"n> y\r\n") == 1
    assert terminal.said.count(b"run 1> v\r\n") == 1
    terminal.process.send_signal(signal.SIGINT)
    assert terminal.code() == 130
    assert b"Run 2 (clock" in terminal.said
    assert b"Traceback" not in terminal.said
    assert "void" in told("show").stdout


_AS_THE_PROMPT_IS_WRITTEN = """
import ctypes, functools, readline, signal
from planner.cli import main
# Called from C alone, so that Python cannot act on the signal before the wait for a key.
readline.set_startup_hook(functools.partial(ctypes.CDLL(None)["raise"], int(signal.SIGINT)))
main()
"""


def test_control_c_leaves_just_before_the_wait_for_a_key() -> None:
    """Python alone would hear it with the next key: `input()` had not begun to wait."""
    for needed in ("pty", "readline"):
        pytest.importorskip(needed, reason="needs a terminal as POSIX has them")
    made()
    terminal = Terminal("-c", _AS_THE_PROMPT_IS_WRITTEN)
    assert terminal.code() == 130
    assert b"Nothing is lost" in b" ".join(terminal.said.split())
    assert b"Traceback" not in terminal.said
