"""The cutting-stock instances of stock.csv, 8 to 60 pieces, and their optima by HiGHS.

Usage: generate_stock.py write OUT.csv | check | time   (see command.py)
"""
import random

import command
import patterns

HEAD = ["id", "kind", "kerf_mm", "stock_mm_cost_limit", "pieces_mm"]
SOURCE = "SciPy milp (HiGHS), pattern form"
# Seed, how many, ranges of piece length as a share of the longest stock.
SERIES = [
    (20260101, 150, [(0.15, 0.7), (0.2, 0.5), (0.25, 0.6), (0.1, 0.95), (0.24, 0.34)]),
    (20260601, 60, [(0.26, 0.41), (0.3, 0.5), (0.12, 0.3), (0.2, 0.8)]),
]


def instance(rng, pieces, kind, shares):
    """Lengths in millimetres; (kerf, stock as (length, cost, limit), pieces)."""
    kerf = rng.choice([0, 3, 4, 5])
    step = rng.choice([1, 1, 5, 50])
    longest = rng.choice([2000, 2500, 3000, 5000])
    low, high = rng.choice(shares)
    lengths = [max(step, int(rng.uniform(low, high) * longest) // step * step) for _ in range(pieces)]
    if rng.random() < 0.3:  # repeated lengths, as in a facade of equal bays
        few = lengths[: max(3, pieces // 5)]
        lengths = [rng.choice(few) for _ in range(pieces)]
    if kind == "one":
        stock = [(longest, 1, None)]
    else:
        second = longest * rng.choice([3, 4]) // 5
        stock = [(longest, rng.randint(900, 1100) * longest // 1000, None),
                 (second, rng.randint(930, 1150) * second // 1000, None)]
        if rng.random() < 0.4:
            third = longest * 2 // 5
            stock.append((third, rng.randint(950, 1200) * third // 1000, None))
    if kind == "limited":
        stock.append((longest * 9 // 10, longest * 4 // 10, rng.randint(1, 4)))
        stock.append((longest * 7 // 10, 0, 1))
    return kerf, stock, lengths


def instances(used):
    """All instances in order; `used()` says how many were used so far. Yields the cells of the
    file and what builds the arguments of `milp` (None where the instance is left out)."""
    before = 0
    for seed, count, shares in SERIES:
        rng = random.Random(seed)
        while (made := used() - before) < count:
            kind = ["one", "several", "one", "limited", "several"][made % 5]
            kerf, stock, lengths = instance(rng, 8 + made * 52 // (count - 1), kind, shares)
            sizes = sorted({n + kerf for n in lengths}, reverse=True)
            demand = [sum(1 for n in lengths if n + kerf == s) for s in sizes]
            bins = [(length + kerf, cost, limit) for length, cost, limit in stock]

            def build(sizes=sizes, demand=demand, bins=bins):
                cols = patterns.columns(sizes, demand, bins)
                few = cols is not None and len(cols) <= 3000
                return patterns.build(sizes, demand, bins, cols) if few else None

            yield [
                f"S{used() + 1:03}", kind, str(kerf),
                ";".join(f"{a}:{b}:{'' if c is None else c}" for a, b, c in stock),
                ";".join(map(str, lengths)),
            ], build
        before += count


if __name__ == "__main__":
    command.run("stock.csv", HEAD, SOURCE, instances, patterns.solve)
