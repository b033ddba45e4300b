"""Cutting stock in pattern form, solved by the HiGHS solver that SciPy carries.

Every undominated way to fill a bar is a column; `milp` chooses how often each is used.
"""
import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

MOST = 20_000
NODES = 300


def fillings(sizes, demand, capacity, most=MOST):
    """All maximal (item -> count) fillings of one bar; None when there are more than `most`."""
    found, count = [], [0] * len(sizes)

    def go(at, left):
        if len(found) > most:
            return
        if at == len(sizes):
            if all(count[i] == demand[i] or sizes[i] > left for i in range(len(sizes))):
                found.append(tuple(count))
            return
        for n in range(min(demand[at], left // sizes[at]), -1, -1):
            count[at] = n
            go(at + 1, left - n * sizes[at])
        count[at] = 0

    go(0, capacity)
    return None if len(found) > most else found


def columns(sizes, demand, stock):
    """(cost, stock index, filling) of every column; `stock` is (capacity, cost, limit or None)."""
    result = []
    for k, (capacity, cost, _) in enumerate(stock):
        fits = fillings(sizes, demand, capacity)
        if fits is None or len(result) + len(fits) > MOST:
            return None
        result += [(cost, k, f) for f in fits if any(f)]
    return result


def build(sizes, demand, stock, cols):
    """Arguments of `milp`."""
    a = csc_matrix(np.array([f for _, _, f in cols], dtype=float).T)
    constraints = [LinearConstraint(a, np.array(demand, dtype=float), np.inf)]
    for k, (_, _, limit) in enumerate(stock):
        if limit is not None:
            row = np.array([[1.0 if c[1] == k else 0.0 for c in cols]])
            constraints.append(LinearConstraint(row, -np.inf, limit))
    return {
        "c": np.array([c for c, _, _ in cols], dtype=float),
        "constraints": constraints,
        "integrality": np.ones(len(cols)),
        "bounds": Bounds(0, np.inf),
    }


def solve(built, nodes=NODES):
    """Least cost, proven by HiGHS to a relative gap of zero; None when there is none, or when
    HiGHS has not proven it within so many nodes (a count, so every machine skips the same)."""
    options = {"mip_rel_gap": 0.0} | ({} if nodes is None else {"node_limit": nodes})
    result = milp(**built, options=options)
    if result.status in (1, 2) or "limit reached" in result.message:
        return None
    if result.status != 0:
        raise RuntimeError(result.message)
    return int(round(result.fun))
