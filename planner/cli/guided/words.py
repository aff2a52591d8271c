"""The words that may be typed at the prompt, the short ones for cold hands among them."""

from collections.abc import Mapping

from planner.cli.guided.answer import Wish
from planner.domain.outcome import Outcome

OUTCOMES: Mapping[str, Outcome] = {
    "p": Outcome.PASS,
    "pass": Outcome.PASS,
    "passed": Outcome.PASS,
    "c": Outcome.CRASH,
    "crash": Outcome.CRASH,
    "crashed": Outcome.CRASH,
    "n": Outcome.NO_START,
    "no-start": Outcome.NO_START,
    "e": Outcome.ERRORS,
    "error": Outcome.ERRORS,
    "errors": Outcome.ERRORS,
    "w": Outcome.WRONG_RESULT,
    "wrong": Outcome.WRONG_RESULT,
    "wrong-result": Outcome.WRONG_RESULT,
    "o": Outcome.POWER_OFF,
    "off": Outcome.POWER_OFF,
    "power-off": Outcome.POWER_OFF,
    "s": Outcome.STOPPED,
    "stopped": Outcome.STOPPED,
    "v": Outcome.VOID,
    "void": Outcome.VOID,
}
WISHES: Mapping[str, Wish] = {
    "u": Wish.UNDO,
    "undo": Wish.UNDO,
    "b": Wish.UNDO,
    "back": Wish.UNDO,
    "note": Wish.NOTE,
    "show": Wish.SHOW,
    "plot": Wish.PLOT,
    "again": Wish.AGAIN,
    "skip": Wish.SKIP,
    "?": Wish.HELP,
    "h": Wish.HELP,
    "help": Wish.HELP,
    "q": Wish.QUIT,
    "quit": Wish.QUIT,
    "exit": Wish.QUIT,
}
OWN = frozenset({"own", "set", "as-is"})
"""What opens the line of a person's own run."""
JOINED: Mapping[tuple[str, str], str] = {
    ("no", "start"): "no-start",
    ("no", "boot"): "no-start",
    ("power", "off"): "power-off",
    ("wrong", "result"): "wrong-result",
    ("as", "is"): "as-is",
    ("failed", "after"): "after",
    ("capped", "by"): "capped",
    ("cold", "boot"): "cold",
    ("cold", "start"): "cold",
    ("warm", "boot"): "warm",
    ("warm", "start"): "warm",
}
"""Two words that mean one."""
SEEN = frozenset({"hang", "hung", "freeze", "froze", "frozen", "reset", "blank", "black", "screen"})
"""What may have been seen of a failure, without `saw` before it."""
FILLERS = frozenset({"and", "with"})
YES, NO = frozenset({"y", "yes"}), frozenset({"n", "no", ""})
"""Replies to a doubt. There `n` is no, never a failure to start."""
