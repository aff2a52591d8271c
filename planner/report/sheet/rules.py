"""The person's own claim rules held against the run that made a score."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.history import History
from planner.report.sheet.settings import whole_setting
from planner.trade.cost import cost_of


@dataclass(frozen=True, slots=True)
class Judged:
    """One claim rule as it stands for one run."""

    rule: str
    """What is asked for."""
    met: bool | None
    """None: no program can see it, or what it needs is not told."""
    why: str
    """What was found."""


def judged_rules(history: History, run: Run, attached: Collection[str]) -> tuple[Judged, ...]:
    """Every claim rule of today's study; `attached`: names of the files that go with the sheet."""
    now, then = history.definition, history.definitions[run.definition]
    if now.claim_rules.workload not in ("", run.workload):
        return ()
    return (
        *_version(now, then, run),
        *_recorded(now, then, run),
        *_pictures(now, attached),
        *_rig(now, then),
        *_settings(now, run),
        *_clock(now, then, run),
        *(Judged(text, None, "for a person to see to") for text in now.claim_rules.also),
    )


def _version(now: Definition, then: Definition, run: Run) -> Iterator[Judged]:
    wanted = now.claim_rules.version
    if wanted:
        workload = then.workloads.get(run.workload)
        told = workload.version if workload else ""
        why = f"the study told {told!r} when it ran" if told else "not told when it ran"
        yield Judged(f"version {wanted} of the workload", told == wanted, why)


def _recorded(now: Definition, then: Definition, run: Run) -> Iterator[Judged]:
    """Sub-scores and readings of that very run."""
    if now.claim_rules.subscores:
        names = _subscores(now, run) or _subscores(then, run)
        lacking = [name for name in names if name not in run.subscores]
        why = f"not recorded: {', '.join(lacking)}" if lacking else f"of run {run.number}"
        none = not names and not run.subscores
        yield Judged("all sub-scores of one run", not lacking and not none, "none" if none else why)
    for name in now.claim_rules.readings:
        value = run.readings.get(name)
        why = "not recorded" if value is None else format_number(value)
        yield Judged(f"reading {name}", value is not None, why)


def _subscores(definition: Definition, run: Run) -> list[str]:
    workload = definition.workloads.get(run.workload)
    return [name for name, _ in workload.subscores] if workload else []


def _pictures(now: Definition, attached: Collection[str]) -> Iterator[Judged]:
    for name in now.claim_rules.pictures:
        there = name in attached
        yield Judged(f"picture {name}", there, "attached" if there else "not attached")


def _rig(now: Definition, then: Definition) -> Iterator[Judged]:
    rules = now.claim_rules
    if rules.cooling:
        told = then.rig.cooling
        wanted = " or ".join(rules.cooling)
        yield Judged(f"cooling {wanted}", told in rules.cooling, told or "not told when it ran")
    if rules.bracket:
        prices = [part.price for part in now.rig.parts]
        ceiling = dict(now.rig.cost_brackets)[rules.bracket]
        cost = cost_of(prices, dict(now.rig.cost_brackets))
        asked = f"cost bracket {rules.bracket}, at most {format_number(ceiling)}"
        if cost is None or (cost.unpriced and cost.total <= ceiling):
            yield Judged(asked, None, "not every part has its price told")
        else:
            yield Judged(asked, cost.total <= ceiling, f"total {format_number(cost.total)}")


def _settings(now: Definition, run: Run) -> Iterator[Judged]:
    numbers = now.numbers({**now.stock, **whole_setting(run)})
    for rule in now.claim_rules.settings:
        if not rule.names <= numbers.keys():
            yield Judged(rule.text, None, "a value is not a number")
            continue
        values = ", ".join(f"{n} {format_number(numbers[n])}" for n in sorted(rule.names))
        yield Judged(rule.text, rule(numbers), values)


def _clock(now: Definition, then: Definition, run: Run) -> Iterator[Judged]:
    """A knob that shifts the timer skews every score that the machine times itself."""
    knobs = now.claim_rules.trusted_clock
    if not knobs:
        return
    workload, ran = then.workloads.get(run.workload), whole_setting(run)
    asked = "a clock that the setting cannot skew"
    moved = [name for name in knobs if ran.get(name, now.stock[name]) != now.stock[name]]
    if workload is not None and workload.timed_outside:
        yield Judged(asked, True, "timed from outside")
    elif moved:
        yield Judged(asked, False, f"not at stock: {', '.join(moved)}; timed by the machine itself")
    else:
        yield Judged(asked, True, f"at stock: {', '.join(knobs)}")
