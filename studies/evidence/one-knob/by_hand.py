"""What people do by hand: climb until it crashes, back off, confirm; and plain bisection.

Common practice, no source. All three trust the stock value until it fails, and take a confirming
crash for one step too far: back off once more and confirm anew. A step is one tolerance.
"""

from __future__ import annotations

from bench import Answer, Bench


def climb_by_one(bench: Bench) -> Answer:
    """+1 until it crashes, back off, 3 confirming passes."""
    return _confirm(bench, _climb(bench, bench.stock, bench.stride), passes=3)


def climb_by_four(bench: Bench) -> Answer:
    """+4 until it crashes, back, +1 until it crashes, back off, 5 confirming passes."""
    held = _climb(bench, bench.stock, 4 * bench.stride)
    failed = min(held + 4 * bench.stride, bench.top + 1)
    return _confirm(bench, _climb(bench, held, bench.stride, failed), passes=5)


def bisection(bench: Bench) -> Answer:
    """Halve until one step is left, 8 confirming passes."""
    held, failed = bench.stock, bench.top + 1
    while failed - held > bench.stride:
        middle = (held + failed) // 2
        if bench.passes(middle):
            held = middle
        else:
            failed = middle
    return _confirm(bench, held, passes=8)


def _climb(bench: Bench, held: int, step: int, failed: int | None = None) -> int:
    """The last value that passed on the way up, short of one that is known to fail."""
    end = bench.top + 1 if failed is None else failed
    while held + step < end and bench.passes(held + step):
        held += step
    return held


def _confirm(bench: Bench, index: int, passes: int) -> Answer:
    """The hardest value at or below `index` that passes so often in a row."""
    while index >= 0:
        if all(bench.passes(index) for _ in range(passes)):
            return Answer(index)
        index -= bench.stride
    return Answer(None)
