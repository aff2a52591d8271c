"""What the standard says of the supply voltage, in sentences."""

from planner.domain.memory import Standard
from planner.domain.quantity import format_number
from planner.trade.timing.supply import SUPPLIES


def supply_rows(standard: Standard) -> list[tuple[str, str]]:
    """Where it works and what it is rated for; nothing where no source tells."""
    supply = SUPPLIES.get(standard)
    if supply is None:
        return []
    least, most, top = map(format_number, (supply.least, supply.most, supply.absolute))
    return [
        (
            "Supply",
            f"{standard} works at {least} to {most} V. {top} V is its absolute maximum, a stress"
            " rating: past it parts may be damaged for good, and up to it nothing is promised",
        )
    ]
