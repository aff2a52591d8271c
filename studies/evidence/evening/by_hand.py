"""By hand, knob after knob in the order that pays.

Both know what no one at a bench knows beforehand: what each knob is worth over its range by the
noise-free score. Both raise the voltages to their everyday ceilings first, and take a score that
fell by more than twice the run-to-run noise for having gone too far.
"""

from __future__ import annotations

from bench import Bench

from planner.domain.knob import Knob, Setting
from planner.rigs.evening.rig import EveningRig

_FINEST = 24
"""A range is halved until what is left is under this share of it, or one step."""


def in_steps(bench: Bench) -> None:
    """Each knob by two steps at a time until it fails, then back by one."""
    best, score = _begun(bench)
    for knob in _paying(bench.rig):
        step, index = 2, knob.values.index(best[knob.name])
        while step and not bench.over and index + step < len(knob.values):
            held, found = _better(bench, best, knob, index + step, score)
            if held:
                index += step
                best = {**best, knob.name: knob.values[index]}
                score = max(score, found)
            else:
                step -= 1


def veteran(bench: Bench) -> None:
    """Each knob by halving what is left of its range; then a second round from there."""
    best, score = _begun(bench)
    for first in (True, False):
        for knob in _paying(bench.rig):
            low = knob.values.index(best[knob.name])
            last = len(knob.values) - 1
            # In the second round the first one's edge is known about: only a little more is tried.
            high = last + 1 if first else min(low + max(last // 8, 2), last + 1)
            while high - low > max(1, last // _FINEST) and not bench.over:
                middle = (low + high) // 2
                held, found = _better(bench, best, knob, middle, score)
                if held:
                    low, score = middle, max(score, found)
                    best = {**best, knob.name: knob.values[middle]}
                else:
                    high = middle


def _begun(bench: Bench) -> tuple[Setting, float]:
    """Stock's score, then the voltages raised."""
    rig = bench.rig
    score = bench.run(rig.stock).score or 0.0
    raised: Setting = dict(rig.stock)
    for name, knob in rig.knobs.items():
        if knob.supports and knob.ceilings.everyday is not None:
            raised[name] = min(
                knob.values, key=lambda v, k=knob: abs(float(v) - k.ceilings.everyday)
            )
    return raised, score


def _better(
    bench: Bench, best: Setting, knob: Knob, index: int, score: float
) -> tuple[bool, float]:
    """Whether it held without losing score, and what it scored."""
    result = bench.run({**best, knob.name: knob.values[index]})
    found = result.score or 0.0
    lost = found < score * (1 - 2 * bench.rig.bench.score_noise)
    return result.outcome == "pass" and not lost, found


def _paying(rig: EveningRig) -> list[Knob]:
    """Knobs by what their whole range is worth, the dearest first."""
    harder = [knob for knob in rig.knobs.values() if not knob.supports]
    return sorted(harder, key=lambda k: -rig.log_gain({**rig.stock, k.name: k.values[-1]}))
