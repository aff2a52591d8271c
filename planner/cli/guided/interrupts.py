"""Ctrl-C at a prompt: heard even where it falls just before the wait for a key begins.

Python acts on a signal between two of its own steps, and `input()` is one long step: it writes the
prompt and then waits for a key. A signal in between is noted, but the wait has not begun, so it is
not cut short and the note is looked at only with the next line or the next signal. A thread that
sleeps until a signal comes therefore disturbs the wait until the note has been looked at.
"""

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from threading import Event, Thread, main_thread
from types import FrameType

_AGAIN_S = 0.05
"""Seconds between two disturbances: longer than a prompt takes to write, shorter than is felt."""


@contextmanager
def interrupts_heard() -> Iterator[None]:
    """Every Ctrl-C inside is a KeyboardInterrupt at once; the main thread's business alone.

    Nothing changes where Ctrl-C is ignored or means something else, nor on Windows, whose wait for
    a key heeds it by itself.
    """
    usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    if not usual or not hasattr(signal, "pthread_kill"):
        yield
        return
    heard = Event()

    def interrupted(number: int, frame: FrameType | None) -> None:
        heard.set()
        signal.default_int_handler(number, frame)

    notes, pen = os.pipe()
    os.set_blocking(pen, False)
    thread = Thread(target=_disturb, args=(notes, heard), daemon=True)
    # A signal that nobody handles cuts no wait short; this one means nothing to a terminal.
    unused = signal.signal(signal.SIGURG, lambda number, frame: None)
    signal.signal(signal.SIGINT, interrupted)
    before = signal.set_wakeup_fd(pen, warn_on_full_buffer=False)
    thread.start()
    try:
        yield
    finally:
        signal.set_wakeup_fd(before)
        signal.signal(signal.SIGINT, signal.default_int_handler)
        heard.set()
        os.close(pen)
        thread.join()
        signal.signal(signal.SIGURG, unused)
        os.close(notes)


def _disturb(notes: int, heard: Event) -> None:
    """Until the pipe of signal numbers ends: after an interrupt, cut waits short till it counts."""
    while number := os.read(notes, 1):
        while number[0] == signal.SIGINT and not heard.wait(_AGAIN_S):
            with suppress(ProcessLookupError):
                signal.pthread_kill(main_thread().ident or 0, signal.SIGURG)
