"""What the rig costs, in words."""

from planner.domain.quantity import format_number
from planner.domain.tables import Rig
from planner.report.text import phrases
from planner.report.written.blocks import Words
from planner.trade.cost import Cost


def cost_rows(cost: Cost, rig: Rig) -> list[tuple[str, Words]]:
    """The total price, and the bracket that it falls into."""
    left_out = f", without {phrases.counted(cost.unpriced, 'part')} whose price is not told"
    total = _money(cost.total, rig) + (left_out if cost.unpriced else "")
    rows: list[tuple[str, Words]] = [("Total price", total)]
    if cost.ceiling is not None:
        least = "at least " if cost.unpriced else ""
        rows.append(("Cost bracket", f"{least}{cost.bracket}, up to {_money(cost.ceiling, rig)}"))
    elif cost.above:
        top = dict(rig.cost_brackets)[cost.above]
        rows.append(("Cost bracket", f"none: above {cost.above}, up to {_money(top, rig)}"))
    return rows


def _money(value: float, rig: Rig) -> str:
    return f"{format_number(value)} {rig.currency}".rstrip()
