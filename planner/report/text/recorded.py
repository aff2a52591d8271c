"""The confirmation of a run that was recorded or amended."""

from planner.domain.definition import Definition
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.history import History
from planner.report.text import phrases
from planner.report.text.layout import prose
from planner.report.text.passed import passed_ceilings


def recorded_text(run: Run, definition: Definition, width: int) -> str:
    """What is on record now, in a line or two, and what about it is worth a second look."""
    said = recorded_sentences(run, definition)
    return "\n".join(line for text in said for line in prose(text, width, hang=2))


def recorded_sentences(run: Run, definition: Definition, where: bool = True) -> list[str]:
    """The same, not set in lines; `where`: whether the setting is named."""
    own = "your own run, " if run.asked is None else ""
    verb = "amended" if run.amended else "recorded"
    facts = [phrases.setting(definition, run.ran)] if where else []
    if run.score is not None:
        facts.append(f"score {format_number(run.score)}")
    if run.capped:
        facts.append(f"capped by {run.capped}: it holds, but is no best")
    facts.append(f"{phrases.minutes(run.minutes)} all in")
    ended = f"Run {run.number} {verb}: {own}{phrases.ending(run)}; {'; '.join(facts)}."
    return [ended, *flags(run, definition)]


def news_of_best(history: History, run: Run, width: int) -> list[str]:
    """That a run is the best so far, in lines; none where it is not, or where it is the first.

    What proves a score is gone with the next crash.
    """
    before = [
        other.best_score
        for other in history.evidence
        if other.workload == run.workload and other.number != run.number and other.best_score
    ]
    if not before or run.best_score is None or run.best_score <= max(before):
        return []
    return prose(_SAVE, width, hang=2)


_SAVE = "The best score so far: save what proves it now, before the next run can take it from you."


def flags(run: Run, definition: Definition) -> list[str]:
    """Values above ceilings, and readings past their stops."""
    return _ceilings_passed(run, definition) + _stops_passed(run, definition)


def _ceilings_passed(run: Run, definition: Definition) -> list[str]:
    numbers = definition.numbers(run.ran)
    return [
        f"{name} {phrases.in_unit(definition, name, numbers[name])} is {what}"
        " (recorded, not refused)."
        for name, what in passed_ceilings(definition, run.ran).items()
    ]


def _stops_passed(run: Run, definition: Definition) -> list[str]:
    found = []
    for name, value in run.readings.items():
        stop = definition.readings[name].stop if name in definition.readings else None
        if stop is not None and value > stop:
            found.append(
                f"{name} {phrases.in_unit(definition, name, value)} is past its stop of"
                f" {phrases.in_unit(definition, name, stop)}: this setting and everything at"
                " least as hot is not proposed any more."
            )
    return found
