"""What the end of an evening leaves of a gain.

A run that does not fit in what is left scores nothing. A failure after which one more run of the
best, dialled in anew, still fits costs its minutes only; one that leaves less takes the evening's
end with it, by the share of that run that no longer fits. So what is worth running late is what
surely holds and is soon dialled in, and long before the end nothing changes.
"""

import numpy as np

from planner.models.hazard import Array
from planner.peak.attempts import Attempts


def left_by_end(
    attempts: Attempts, left: float, again: float, starts: Array, holds: Array
) -> Array:
    """Share of each gain that is left, shape (m,); 0 where the run does not fit.

    `left`: minutes of the evening. `again`: minutes of one more run of the best, dialled in anew.
    `starts`, `holds`: chances to start, and to start and hold, shapes (m,).
    """

    def lost(minutes: float) -> Array:
        return 1 - np.clip((left - attempts.dial - minutes) / again, 0.0, 1.0)

    crashed = (starts - holds) * lost(attempts.crash)
    kept = 1 - crashed - (1 - starts) * lost(attempts.dead)
    return np.where(attempts.dial + attempts.length <= left, kept, 0.0)
