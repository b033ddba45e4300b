"""Writes stock.csv: 150 cutting-stock instances of 8 to 60 pieces with their optimum.

Usage: python3 generate_stock.py OUT.csv
"""
import csv
import random
import sys

import patterns


def instance(rng, pieces, kind):
    """Lengths in millimetres; (kerf, stock as (length, cost, limit), pieces)."""
    kerf = rng.choice([0, 3, 4, 5])
    step = rng.choice([1, 1, 5, 50])
    longest = rng.choice([2000, 2500, 3000, 5000])
    low, high = rng.choice([(0.15, 0.7), (0.2, 0.5), (0.25, 0.6), (0.1, 0.95), (0.24, 0.34)])
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


def main(out):
    rng = random.Random(20260101)
    with open(out, "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["id", "kind", "kerf_mm", "stock_mm_cost_limit", "pieces_mm", "optimum", "status", "source"])
        made = 0
        while made < 150:
            kind = ["one", "several", "one", "limited", "several"][made % 5]
            pieces = 8 + made * 52 // 149
            kerf, stock, lengths = instance(rng, pieces, kind)
            sizes = sorted({n + kerf for n in lengths}, reverse=True)
            demand = [sum(1 for n in lengths if n + kerf == s) for s in sizes]
            bins = [(length + kerf, cost, limit) for length, cost, limit in stock]
            cols = patterns.columns(sizes, demand, bins)
            if cols is None or len(cols) > 3000:
                continue
            optimum = patterns.solve(sizes, demand, bins, cols)
            if optimum is None:
                continue
            made += 1
            writer.writerow([
                f"S{made:03}", kind, kerf,
                ";".join(f"{a}:{b}:{'' if c is None else c}" for a, b, c in stock),
                ";".join(str(n) for n in lengths), optimum, "computed", "SciPy milp (HiGHS), pattern form",
            ])
            file.flush()


if __name__ == "__main__":
    main(sys.argv[1])
