"""Where to cut among cells that hold one edge when a crash costs more than a pass.

The edge lies in one of n neighbouring cells, ordered from easier to harder. A run at a cut with
j cells below it fails if the edge lies below (j cells remain) and passes otherwise (n - j
remain). Costs are in any one unit, minutes for instance.

Least expected cost, every cell equally likely: with W(n) = n times that cost,
W(n) = min over j of  b j + p (n - j) + W(j) + W(n - j)  for a pass that costs p and a failure b.
This is the cheapest prefix code of n equally likely words over two letters of unequal cost. Its
increments W(n + 1) - W(n) start at p + b and are the sorted merge of "an increment + p" and "an
increment + b", because the split that adds a cell adds it where that costs least; W is therefore
convex.

Sources: Varn, Inf. Control 19 (1971) 289; Perl, Garey and Even, J. ACM 22 (1975) 202.
"""

import math
from itertools import accumulate

TIE = 1e-12
"""Relative difference below which two costs count as equal; rounding stays far below it."""


def best_split(cells: int, pass_cost: float, fail_cost: float) -> int:
    """How many of `cells` should lie below the next cut, for the least expected cost.

    Cuts that are equally good lie side by side; the middle one is taken, towards fewer
    failures.

    Raises:
        ValueError: fewer than 2 cells, or a cost that is not a positive number.
    """
    if cells < 2:
        raise ValueError(f"cells = {cells}: expected 2 or more, one cell leaves nothing to cut")
    total = _total_costs(cells, pass_cost, fail_cost)

    def cost(below: int) -> float:
        above = cells - below
        return fail_cost * below + pass_cost * above + total[below] + total[above]

    tied = total[cells] * (1 + TIE)
    best = [below for below in range(1, cells) if cost(below) <= tied]
    return best[(len(best) - 1) // 2]


def _total_costs(cells: int, pass_cost: float, fail_cost: float) -> list[float]:
    """W(0), W(1) ... W(cells) of the module's docstring; W(0) is a placeholder."""
    _check_costs(pass_cost, fail_cost)
    increments = [pass_cost + fail_cost]
    below = above = 0
    while len(increments) < cells:
        after_fail = increments[below] + fail_cost
        after_pass = increments[above] + pass_cost
        increments.append(min(after_fail, after_pass))
        if after_fail <= after_pass:
            below += 1
        else:
            above += 1
    return [0.0, *accumulate(increments[: cells - 1], initial=0.0)]


def _check_costs(pass_cost: float, fail_cost: float) -> None:
    for name, cost in (("pass_cost", pass_cost), ("fail_cost", fail_cost)):
        if not 0 < cost < math.inf:
            raise ValueError(f"{name} = {cost}: expected a positive number")
