"""Settings for every day and trimmed ones on benches of another family: sound, and how near."""

from __future__ import annotations

import argparse
import math
from functools import partial
from multiprocessing import get_context
from typing import NamedTuple

import numpy as np

import planner
from planner.domain.knob import Setting
from planner.rigs.evening.draw import evening_rig
from planner.rigs.evening.possible import best_setting
from planner.rigs.evening.rig import EveningRig

SEED0 = 10_000
"""Seeds of the evidence start here; 0 to 9999 are for development and are never reported."""
TARGET = 0.9


class Evening(NamedTuple):
    """What one search came to."""

    sound: bool
    """Whether what it would keep truly passes with the target."""
    short: float
    """By how much it is worth less than the best sound setting, on a log scale."""
    chance: float
    """True chance of what it would keep."""
    minutes: float
    failed: float
    """Share of the runs that failed."""
    kept: bool
    """Whether it named a setting at all."""


def searched(aim: str, minutes: float, seed: int) -> Evening:
    """One search, until it closes or the minutes are spent."""
    rig = evening_rig(seed)
    tables = rig.definition
    tables["study"] |= {"aim": aim, "minutes": minutes, "target": TARGET}
    study = planner.Study.create(tables, store="memory")
    while rig.minutes < minutes and (proposal := study.next()) is not None:
        run = rig.run(proposal.settings)
        facts = {"score": run.score, "subscores": run.subscores, "readings": run.readings}
        facts |= {"minutes": run.minutes, "failed_after_s": run.failed_after_s}
        study.record(run.outcome, number=proposal.number, **facts)
    kept = study.recommendation()
    chance = rig.pass_probability(kept.settings)
    worth = gained if aim == "everyday" else saved
    best = best_setting(rig, TARGET) if aim == "everyday" else trimmed(rig)
    runs = study.history.evidence
    return Evening(
        chance >= TARGET,
        worth(rig, best) - worth(rig, kept.settings),
        chance,
        rig.minutes,
        sum(r.outcome.failed for r in runs) / len(runs),
        kept.holds,
    )


def gained(rig: EveningRig, setting: Setting) -> float:
    """Log of the score against stock, free of noise."""
    return rig.log_gain(setting)


def saved(rig: EveningRig, setting: Setting) -> float:
    """Minus the log of power: it goes with the square of a voltage."""
    return -2 * sum(math.log(float(setting[n]) / float(rig.stock[n])) for n in volts(rig))


def volts(rig: EveningRig) -> list[str]:
    """The voltages."""
    return [name for name, knob in rig.knobs.items() if knob.unit == "V"]


def trimmed(rig: EveningRig) -> Setting:
    """The least voltages that truly pass, all combinations looked at."""
    settings = [rig.stock]
    for name in volts(rig):
        lower = [v for v in rig.knobs[name].values if float(v) <= float(rig.stock[name])]
        settings = [{**s, name: v} for s in settings for v in lower]
    sound = [s for s in settings if rig.pass_probability(s) >= TARGET]
    return max(sound, key=partial(saved, rig), default=rig.stock)


def main() -> None:
    """Prints one line for each aim."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=60)
    parser.add_argument("--minutes", type=float, default=240)
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--seed0", type=int, default=SEED0, help="first seed; 0 to develop")
    options = parser.parse_args()
    seeds = range(options.seed0, options.seed0 + options.rigs)
    print(f"rigs: {options.rigs}, seeds {seeds.start} to {seeds.stop - 1}, target {TARGET}")
    print("aim | sound | short of the best, mean ± s.e. | true chance | minutes | failed | kept")
    with get_context("spawn").Pool(options.jobs) as pool:
        for aim in ("everyday", "trim"):
            found = np.array(pool.map(partial(searched, aim, options.minutes), seeds), float)
            mean = found.mean(axis=0)
            error = found[:, 1].std() / math.sqrt(len(found))
            print(
                f"{aim} | {mean[0]:.3f} | {mean[1]:.4f} ± {error:.4f} | {mean[2]:.3f}"
                f" | {mean[3]:.0f} | {mean[4]:.2f} | {mean[5]:.2f}",
                flush=True,
            )


if __name__ == "__main__":
    main()
