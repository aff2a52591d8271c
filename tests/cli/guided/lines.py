"""Runs as they would be typed at the prompt."""

from typing import Any

LETTERS = {
    "pass": "p",
    "crash": "c",
    "no-start": "n",
    "errors": "e",
    "wrong-result": "w",
    "power-off": "o",
    "stopped": "s",
    "void": "v",
}


def typed(told: dict[str, Any], own: bool = False) -> str:
    """The line for facts as `Study.record` takes them; `own`: with what was set."""
    words = [LETTERS[told["outcome"]]]
    if own:
        words = ["own", *(f"{knob}={value}" for knob, value in told["settings"].items()), *words]
    named = {"score": "score={}", "capped": "capped {}", "boot": "{}", "errors": "errors={}"}
    named |= {"failed_after_s": "after {}s", "minutes": "took {}min"}
    words += [form.format(told[n]) for n, form in named.items() if told.get(n) is not None]
    for table in ("readings", "subscores"):
        words += [f"{name}={value}" for name, value in (told.get(table) or {}).items()]
    return " ".join(words)
