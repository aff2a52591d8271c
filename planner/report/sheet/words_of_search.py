"""The setting to keep in words: what it is, what it rests on, what is owed."""

from collections.abc import Iterator

from planner.report.sheet.nouns import Kept, Search, Sheet
from planner.report.sheet.settings_words import OWN_RISK, kept_table, risk_words
from planner.report.sheet.words_of_claims import held_rows
from planner.report.sheet.words_of_frontier import frontier_blocks
from planner.report.text import phrases
from planner.report.written.blocks import Block, Facts, Heading, Paragraph, Strong, Table, Words


def kept_label(sheet: Sheet, kept: Kept) -> str:
    """What the setting is called: nothing is to be kept that was never seen to hold."""
    search = sheet.search
    assert search is not None
    if not kept.holds:
        return "Nothing to keep yet"
    backed = kept.evidence.passes or kept.pass_probability >= search.target
    word = "Keep" if backed else "Best guess"
    return f"{word}, everyday" if _beside(search, kept) else word


def search_blocks(sheet: Sheet) -> Iterator[Block]:
    """The setting to keep, and the everyday one beside it where there is one."""
    search = sheet.search
    yield Heading(2, "Setting to keep")
    if search is None:
        yield Paragraph("None is worked out: no knob of the study has a range to search.")
        return
    best, *others = search.kept
    if best.at_own_risk:
        yield Paragraph(risk_words(best.at_own_risk))
    yield Paragraph(_standing(search))
    heads = tuple(_head(sheet, kept) for kept in search.kept)
    yield kept_table(best.lines, others[0].lines if others else (), heads)
    yield Heading(3, "What it rests on")
    if others:
        yield _beside_table(search, heads)
    else:
        yield Facts(tuple(_rows(search, best)))
    yield from frontier_blocks(search.traced)


def _beside(search: Search, kept: Kept) -> bool:
    return kept is not search.kept[0]


def _head(sheet: Sheet, kept: Kept) -> str:
    label = kept_label(sheet, kept)
    return f"{label}, {OWN_RISK}" if kept.at_own_risk else label


def _standing(search: Search) -> str:
    full = f"{search.workload}, {phrases.minutes(search.nominal_minutes)}"
    sought = f"Sought: a setting at which {search.target:.0%} of full runs ({full}) pass."
    if search.reason:
        return f"{sought} {_asked(search)} The search has ended: {search.reason}."
    return f"{sought} {_asked(search)} The search is still open: further runs are worth making."


def _asked(search: Search) -> str:
    """The claim that confirming runs were to bear out."""
    boots = phrases.counted(search.cold_boots, "cold boot")
    over = f" over {boots}" if search.cold_boots else ""
    if search.confidence is not None:
        return f"Asked for: {search.confidence:.0%} confidence, by passes without a failure{over}."
    return f"Asked for: passes{over}." if over else "No confirming runs were asked for."


def _beside_table(search: Search, heads: tuple[str, ...]) -> Table:
    columns = [dict(_rows(search, kept)) for kept in search.kept]
    labels = dict.fromkeys(label for column in columns for label in column)
    rows = tuple((label, *(column.get(label, "-") for column in columns)) for label in labels)
    return Table(("Evidence", *heads), rows, "What they rest on" if len(columns) > 1 else "")


def _rows(search: Search, kept: Kept) -> Iterator[tuple[str, Words]]:
    if not kept.holds:
        yield "Chance", "nothing is known to hold; shown is the easiest permitted setting"
        return
    low, high = (phrases.chance(end) for end in kept.interval)
    yield (
        "Chance",
        f"{phrases.chance(kept.pass_probability)} that a full run passes, by the model"
        f" ({kept.level:.0%} interval: {low} to {high})",
    )
    yield from held_rows(kept.evidence)
    yield "Still owed", _owed(kept)


def _owed(kept: Kept) -> Words:
    if kept.spoilt:
        return Strong("the claim asked for cannot be made: a run failed there")
    owed = []
    if kept.passes_owed:
        owed.append(phrases.counted(kept.passes_owed, "more pass", "more passes in a row"))
    if kept.cold_boots_owed:
        more = phrases.counted(kept.cold_boots_owed, "more pass", "more passes")
        owed.append(f"{more} from a cold boot")
    return "; ".join(owed) or "nothing"
