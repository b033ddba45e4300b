"""The assignments of supply.csv, loads to supplies and decoders, and their optima by HiGHS.

Usage: generate_supply.py write OUT.csv | check | time   (see command.py)

Every feasible content of one body is a column, `milp` (HiGHS) chooses among them.
All loads stand at one place. Units: mW, mA, whole percents, minor units of price.
"""
import random

import command
import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

MOST = 4000
HEAD = ["id", "kind", "load_factor_percent", "kinds", "loads", "separate", "room", "spares", "fixed"]
SOURCE = "SciPy milp (HiGHS), one column per feasible content"


def packs(amps, limit, bins):
    """Whether the currents go into so many outputs, by going through all ways."""
    amps = sorted(amps, reverse=True)
    load = [0] * bins

    def go(at):
        if at == len(amps):
            return True
        seen = set()
        for b in range(bins):
            if load[b] in seen or load[b] + amps[at] > limit:
                continue
            seen.add(load[b])
            load[b] += amps[at]
            if go(at + 1):
                return True
            load[b] -= amps[at]
        return False

    return go(0)


def fits(kind, loads, chosen, separate):
    """Whether a body of this kind carries the chosen loads."""
    if sum(loads[i]["body"] for i in chosen) > kind["body"]:
        return False
    for i in chosen:
        for j in chosen:
            pair = {loads[i]["zone"], loads[j]["zone"]}
            if loads[i]["emergency"] != loads[j]["emergency"] or (len(pair) == 2 and pair == separate):
                return False
    signals = {}
    for i in chosen:
        for signal, amps in loads[i]["parts"]:
            signals.setdefault(signal, []).append(amps)
    left = kind["outputs"]
    for amps in signals.values():
        need = next((n for n in range(1, left + 1) if packs(amps, kind["output"], n)), None)
        if need is None:
            return False
        left -= need
    return True


def contents(kind, loads, separate):
    """All feasible sets of loads, by adding the next load to those found."""
    found, at = [()], 0
    while at < len(found):
        base = found[at]
        at += 1
        for i in range(base[-1] + 1 if base else 0, len(loads)):
            more = (*base, i)
            if fits(kind, loads, more, separate):
                found.append(more)
                if len(found) > MOST:
                    return None
    return found[1:]


def build(loads, kinds, separate, room, spares, fixed):
    """Arguments of `milp`, or None where the instance is not used."""
    columns = []  # (cost, kind, emergency, installed, set)
    for k, kind in enumerate(kinds):
        sets = contents(kind, loads, separate)
        if sets is None:
            return None
        columns += [(kind["price"], k, loads[s[0]]["emergency"], 0, s) for s in sets]
        if fixed and fixed[0] == k:
            kept = set(fixed[1])
            if not fits(kind, loads, tuple(sorted(kept)), separate):
                return None
            columns += [(0, k, loads[s[0]]["emergency"], 1, s) for s in sets if kept <= set(s)]
    n, m = len(loads), len(columns)
    pairs = [(k, e) for k in range(len(kinds)) for e in (0, 1)] if spares else []
    cost = [c[0] for c in columns] + [kinds[k]["price"] for k, _ in pairs]
    total = m + len(pairs)
    cover = np.zeros((n, total))
    for at, c in enumerate(columns):
        for i in c[4]:
            cover[i, at] = 1
    constraints = [LinearConstraint(csc_matrix(cover), 1, np.inf)]
    for at, (k, e) in enumerate(pairs):
        row = np.zeros(total)
        for j, c in enumerate(columns):
            if c[1] == k and c[2] == e:
                row[j] = 1
        row[m + at] = -n
        constraints.append(LinearConstraint(row[None, :], -np.inf, 0))
    if fixed:
        row = np.array([1.0 if c[3] else 0.0 for c in columns] + [0.0] * len(pairs))
        constraints.append(LinearConstraint(row[None, :], 1, 1))
    if room is not None:
        constraints.append(LinearConstraint(np.ones((1, total)), -np.inf, room))
    return {"c": np.array(cost, dtype=float), "constraints": constraints, "integrality": np.ones(total),
            "bounds": Bounds(0, np.inf)}


def solve(built, nodes=2000):
    """Optimum, -1 where there is none, or None where it is not proven within so many nodes."""
    options = {"mip_rel_gap": 0.0} | ({} if nodes is None else {"node_limit": nodes})
    result = milp(**built, options=options)
    if result.status == 2:
        return -1
    return int(round(result.fun)) if result.status == 0 else None


def instance(rng, made):
    """Loads, kinds as listed in the file, kinds in whole units."""
    decoder = made % 5 >= 3
    count = rng.randint(6, 14)
    loads = []
    for _ in range(count):
        zone = rng.choice("ABC")
        emergency = int(rng.random() < 0.15)
        if decoder:
            emitters = rng.choice([1, 2, 3, 4])
            amps = [rng.randint(3, 45) * 100 for _ in range(emitters)]
            parts = [(f"{zone}{e}", a) for e, a in enumerate(amps)]
            loads.append({"zone": zone, "emergency": emergency, "parts": parts, "body": sum(amps)})
        else:
            milliwatts = rng.randint(80, 700) * 100
            amps = round(milliwatts / 24)
            loads.append({"zone": zone, "emergency": emergency, "parts": [("", amps)], "body": milliwatts * 10000})
    kinds = []
    for _ in range(rng.randint(1, 3)):
        outputs = rng.choice([1, 2, 3, 4]) if not decoder else rng.choice([3, 4, 6, 8])
        limit = rng.choice([4000, 5000, 6500, 8000])
        if decoder:
            size = rng.choice([10, 15, 20, 30]) * 1000
            kinds.append({"list": f"{size}:{outputs}:{limit}:100", "body": size, "outputs": outputs, "output": limit,
                          "price": rng.randint(40, 90) * outputs})
        else:
            watts, derating = rng.choice([96, 150, 240, 320]), rng.choice([100, 100, 90, 75])
            kinds.append({"list": f"{watts}:{outputs}:{limit}:{derating}", "watts": watts, "derating": derating,
                          "outputs": outputs, "output": limit, "price": rng.randint(30, 60) * watts})
    return decoder, loads, kinds


def instances(used):
    """All instances in order; see `generate_stock.instances`."""
    rng = random.Random(20260202)
    while used() < 100:
        decoder, loads, kinds = instance(rng, used())
        factor = rng.choice([80, 80, 100])
        for kind in kinds:
            if not decoder:  # mW * 10000, so that the two percents stay whole
                kind["body"] = kind["watts"] * 1000 * kind["derating"] * factor
        if any(not any(fits(k, loads, (i,), None) for k in kinds) for i in range(len(loads))):
            continue
        separate = rng.choice([None, {"A", "B"}, {"B", "C"}])
        spares = int(rng.random() < 0.3)
        room = rng.randint(3, 8) if rng.random() < 0.3 else None
        fixed = None
        if rng.random() < 0.3:
            same = [i for i, l in enumerate(loads) if l["emergency"] == 0][:2]
            fixed = (0, same) if same else None
        text = ";".join(
            f"{l['zone']}:{l['emergency']}:{l['body'] // 10000 if not decoder else 0}:"
            + "/".join(str(a) for _, a in l["parts"]) for l in loads)

        def make(problem=(loads, kinds, separate, room, spares, fixed)):
            return build(*problem)

        yield [
            f"A{used() + 1:03}", "decoder" if decoder else "supply", str(factor),
            ";".join(f"{k['list']}:{k['price']}" for k in kinds), text,
            "-".join(sorted(separate)) if separate else "", "" if room is None else str(room), str(spares),
            f"{fixed[0]}:{'/'.join(map(str, fixed[1]))}" if fixed else "",
        ], make


if __name__ == "__main__":
    command.run("supply.csv", HEAD, SOURCE, instances, solve)
