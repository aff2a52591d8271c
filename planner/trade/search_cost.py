"""What it costs to find one edge among cells when a crash costs more than a pass.

The edge lies in one of n neighbouring cells, ordered from easier to harder. A run at a cut with
j cells below it fails if the edge lies below (j cells remain) and passes otherwise (n - j
remain). Costs are in any one unit, minutes for instance.

- Worst case, a pass costing 1 and a failure b: N(t) = N(t - 1) + N(t - b) cells can be told
  apart within cost t, and N(t) = 1 while t < b. b = 1 is plain bisection, b = 2 Fibonacci.
- Many cells: the pass side keeps the share s and the failure side s^b, with s + s^b = 1; each
  unit of cost multiplies the cells by L = 1 / s.
- Least expected cost, every cell equally likely: with W(n) = n times that cost,
  W(n) = min over j of  b j + p (n - j) + W(j) + W(n - j).  This is the cheapest prefix code of
  n equally likely words over two letters of unequal cost. Its increments W(n + 1) - W(n)
  start at p + b and are the sorted merge of "an increment + p" and "an increment + b", because
  the split that adds a cell adds it where that costs least; W is therefore convex.
- At most k crashes: n runs tell sum of C(n, i) for i = 1..k levels apart.

Sources: Cameron and Narayanamurthy, Oper. Res. 12 (1964) 623 and Hinderer, Z. Oper. Res. 34
(1990), as surveyed by Hassin and Sarid, Eur. J. Oper. Res. 265 (2018) 795; Efraimidis,
arXiv:1012.0259 (worst case, both costs); Varn, Inf. Control 19 (1971) 289 and Perl, Garey and
Even, J. ACM 22 (1975) 202 (expected cost); Boardman, Math. Mag. 77 (2004) 368 (crash budget).
"""

import math
from itertools import accumulate, count
from typing import NamedTuple

TIE = 1e-12
"""Relative difference below which two costs count as equal; rounding stays far below it."""


class AsymptoticSplit(NamedTuple):
    """How to cut a long range whose edge is sought at unequal costs."""

    growth: float
    """Factor by which one unit of cost, a pass's, multiplies the cells told apart."""
    fail_share: float
    """Share of the cells that lies below the cut, on the failure side."""


def cells_within(cost: int, fail_cost: int) -> int:
    """Most cells that `cost` always suffices to tell apart; a pass costs 1.

    Raises:
        ValueError: cost below 0 or fail_cost below 1.
    """
    if cost < 0 or fail_cost < 1:
        raise ValueError(f"cost = {cost}, fail_cost = {fail_cost}: expected from 0 and from 1")
    cells = [1] * fail_cost
    for spent in range(fail_cost, cost + 1):
        cells.append(cells[spent - 1] + cells[spent - fail_cost])
    return cells[cost]


def asymptotic_split(fail_cost: float) -> AsymptoticSplit:
    """Best cut of a range of very many cells; a pass costs 1.

    Raises:
        ValueError: fail_cost not a positive number.
    """
    _check_costs(1, fail_cost)
    low, high = 0.0, 1.0
    while low < (pass_share := (low + high) / 2) < high:
        if pass_share + pass_share**fail_cost < 1:
            low = pass_share
        else:
            high = pass_share
    return AsymptoticSplit(1 / pass_share, 1 - pass_share)


def least_expected_cost(cells: int, pass_cost: float, fail_cost: float) -> float:
    """Mean cost of finding the edge when each of `cells` is equally likely; 0 for one cell.

    Raises:
        ValueError: fewer than 1 cell, or a cost that is not a positive number.
    """
    if cells < 1:
        raise ValueError(f"cells = {cells}: expected 1 or more")
    return _total_costs(cells, pass_cost, fail_cost)[cells] / cells


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


def runs_with_crash_budget(levels: int, crashes: int) -> int:
    """Runs that always suffice to find the highest of `levels` that holds, within `crashes`.

    Raises:
        ValueError: levels below 0 or crashes below 1.
    """
    if levels < 0 or crashes < 1:
        raise ValueError(f"levels = {levels}, crashes = {crashes}: expected from 0 and from 1")
    return next(
        runs
        for runs in count()
        if sum(math.comb(runs, failed) for failed in range(1, crashes + 1)) >= levels
    )


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
