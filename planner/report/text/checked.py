"""What `check` found."""

from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.ledger import Head
from planner.gate import gate_of
from planner.history import History
from planner.models.scores.composite import told_rule
from planner.report.text import phrases
from planner.report.text.broken_notes import broken_notes
from planner.report.text.ceilings import blank
from planner.report.text.layout import prose
from planner.report.text.mains import wall_notes
from planner.report.text.standing import short_head


@dataclass(frozen=True, slots=True)
class Checked:
    """A study that was read from end to end."""

    history: History
    head: Head
    adopted: bool
    """Whether an edited study.toml was taken over just now."""
    repaired: str | None
    """The note that a repair left; None: nothing was repaired."""
    asked_head: str | None
    """The head that the ledger was compared with; None: none was given."""
    head_holds: bool
    """Whether the ledger still holds it."""


def objections_to_stock(history: History) -> list[str]:
    """Why stock itself could not be proposed; empty: it could."""
    return gate_of(history).objections(history.definition.stock)


def checked_text(checked: Checked, width: int) -> str:
    """What is in order, what is not, and what it means."""
    history = checked.history
    definition = history.definition
    taken = "taken over as edited" if checked.adopted else "as it was last taken over"
    knobs = phrases.counted(len(definition.knobs), "knob")
    said = [f"study.toml is in order and {taken}: {knobs}."]
    if checked.repaired:
        said.append(f"{checked.repaired[:1].upper()}{checked.repaired[1:]}.")
    said.append(
        f"The ledger is whole: {phrases.counted(checked.head.seq, 'entry', 'entries')},"
        f" {phrases.counted(len(history.runs), 'run')}, head"
        f" {short_head(checked.head)}."
    )
    if checked.asked_head and checked.head_holds:
        said.append(f"It still holds {checked.asked_head}: nothing up to there was changed.")
    elif checked.asked_head:
        said.append(
            f"It does NOT hold {checked.asked_head}: its tail was lost, or entries up to there"
            " were rewritten."
        )
    said += _notes(history)
    return "\n".join(line for text in said for line in prose(text, width, hang=2))


def _notes(history: History) -> list[str]:
    definition = history.definition
    found = [
        f"Stock breaks a rule kept as a note: {note.text}."
        for note in broken_notes(definition, definition.stock)
    ]
    found += [f"Stock itself is never proposed: {why}." for why in objections_to_stock(history)]
    found += _weight_notes(definition)
    found += wall_notes(definition)
    found += [
        f"{name} has no everyday ceiling: nothing above stock,"
        f" {definition.knobs[name].show(definition.knobs[name].stock)}, is proposed."
        for name in blank(definition)
    ]
    return found


def _weight_notes(definition: Definition) -> list[str]:
    """Workloads whose weights make no rule; everything but their composite works all the same."""
    found = []
    for workload in definition.workloads.values():
        try:
            told_rule(workload)
        except ValueError as error:
            found.append(f"{workload.name}: {error}; until then its gap leaves them out.")
    return found
