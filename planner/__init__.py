"""Plans stability searches: what to try next, where the edge lies, when to stop."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.study import Study

__all__ = ["Study"]
__version__ = "0.1.0"


def __getattr__(name: str) -> Any:
    """Loads `Study` on first use, so that `planner --help` needn't wait for numpy."""
    if name == "Study":
        from planner.study import Study

        return Study
    raise AttributeError(f"module 'planner' has no attribute {name!r}")
