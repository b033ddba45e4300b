#!/usr/bin/env python3
"""Waveforms of small trees of transmission lines, solved by ngspice.

Lossless lines are its T element (Branin's exact method), lossy ones its LTRA element (convolution of the
exact RLC line). All circuits are invented. With --check: solve again and compare with the committed file.
"""
import csv, json, pathlib, subprocess, sys, tempfile

HERE = pathlib.Path(__file__).parent
NS = 1e-9


def line(a, b, delay, z0=120.0, r=0.0):
    return dict(a=a, b=b, delay_ns=delay, z0=z0, r=r)


def circuit(name, lines, probes, rs=54.0, rise=50, r=None, c=None, levels=(1,), end=6000):
    return dict(name=name, rs=rs, rise_ns=rise, levels=list(levels), end_ns=end, lines=lines,
                resistors=r or {}, capacitors_pf=c or {}, probes=probes)


CIRCUITS = [
    circuit("matched", [line("s", "e", 500)], ["s", "e"], rs=120, r={"e": 120}),
    circuit("open", [line("s", "e", 500)], ["s", "e"]),
    circuit("shorted by 60 ohm", [line("s", "e", 500)], ["s", "e"], r={"e": 60}),
    circuit("120 on 100 ohm cable", [line("s", "e", 700, z0=100)], ["s", "e"], r={"e": 120}),
    circuit("stub 50 ns", [line("s", "t", 500), line("t", "e", 500), line("t", "x", 50)], ["t", "x", "e"], r={"e": 120}),
    circuit("two stubs", [line("s", "t", 300), line("t", "u", 300), line("u", "e", 300), line("t", "x", 80), line("u", "y", 130)],
            ["t", "x", "y", "e"], r={"e": 120}),
    circuit("split, both ended", [line("s", "f", 500), line("f", "a", 250), line("f", "b", 400)], ["s", "f", "a", "b"], r={"a": 120, "b": 120}),
    circuit("split, one open", [line("s", "f", 500), line("f", "a", 250), line("f", "b", 400)], ["s", "f", "a", "b"], r={"a": 120}),
    circuit("star of four", [line("s", "a", 200), line("s", "b", 310), line("s", "c", 420), line("s", "d", 530)], ["s", "a", "d"], r={"d": 120}),
    circuit("receivers of 50 pF", [line("s", "a", 100), line("a", "b", 100), line("b", "c", 100), line("c", "e", 100)], ["a", "c", "e"],
            r={"e": 120}, c={"a": 50, "b": 50, "c": 50, "e": 50}),
    circuit("1 nF at the end, fast edge", [line("s", "e", 400)], ["s", "e"], rise=20, r={"e": 120}, c={"e": 1000}),
    circuit("300 m of 24 AWG, ended", [line("s", "m", 750, r=25.3), line("m", "e", 750, r=25.3)], ["s", "m", "e"], r={"e": 120}),
    circuit("300 m of 24 AWG, open", [line("s", "m", 750, r=25.3), line("m", "e", 750, r=25.3)], ["s", "m", "e"], end=9000),
    circuit("bits on an open line", [line("s", "n", 15), line("n", "e", 735)], ["n", "e"], rise=100,
            levels=[1, -1, 1, 1, -1], end=19000),
]
BIT = 4000


def source(c):
    points, last = [(0, 0.0)], 0.0
    for k, level in enumerate(c["levels"]):
        t = k * BIT
        if t:
            points.append((t, last))
        last = 3.0 * level
        points.append((t + c["rise_ns"], last))
    return "PWL(" + " ".join(f"{t}n {v}" for t, v in points) + ")"


def solve(c):
    deck = [f"* {c['name']}", f"V1 emf 0 {source(c)}", f"RS emf s {c['rs']}"]
    for k, l in enumerate(c["lines"]):
        if l["r"]:
            t = l["delay_ns"] * NS
            deck += [f"O{k} {l['a']} 0 {l['b']} 0 m{k}",
                     f".model m{k} LTRA(R={l['r']!r} L={l['z0'] * t!r} C={t / l['z0']!r} G=0 LEN=1 REL=1 ABS=1 NOSTEPLIMIT COMPACTREL=1e-6 COMPACTABS=1e-12)"]
        else:
            deck.append(f"T{k} {l['a']} 0 {l['b']} 0 Z0={l['z0']} TD={l['delay_ns']}n")
    nodes = sorted({x for l in c["lines"] for x in (l["a"], l["b"])})
    for n in nodes:
        deck.append(f"RL{n} {n} 0 {c['resistors'].get(n, 1e9)}")
        if n in c["capacitors_pf"]:
            deck.append(f"C{n} {n} 0 {c['capacitors_pf'][n]}p")
    deck += [".options reltol=1e-5 abstol=1e-12 vntol=1e-9 method=trap",
             ".control", "set wr_vecnames", "set wr_singlescale",
             f"tran 1n {c['end_ns']}n 0 1n uic", "linearize " + " ".join(f"v({p})" for p in c["probes"]),
             "wrdata OUT " + " ".join(f"v({p})" for p in c["probes"]), "quit", ".endc", ".end"]
    with tempfile.TemporaryDirectory() as d:
        pathlib.Path(d, "c.cir").write_text("\n".join(deck) + "\n")
        subprocess.run(["ngspice", "-b", "c.cir"], cwd=d, check=True, capture_output=True, stdin=subprocess.DEVNULL, timeout=60)
        out = next(pathlib.Path(d).glob("OUT*")) if list(pathlib.Path(d).glob("OUT*")) else next(pathlib.Path(d).glob("out*"))
        rows = [[float(x) for x in l.split()] for l in out.read_text().splitlines()[1:] if l.strip()]
    return rows


def main():
    table = []
    for c in CIRCUITS:
        rows = solve(c)
        step = 20 if c["end_ns"] <= 9000 else 50
        peaks = [max(abs(r[i + 1]) for r in rows) for i in range(len(c["probes"]))]
        for k in range(step // 2, len(rows) - 20, step):
            assert abs(rows[k][0] - k * NS) < 1e-12, (c["name"], k, rows[k][0])
            for i, p in enumerate(c["probes"]):
                near = [rows[j][i + 1] for j in range(max(0, k - 15), k + 16)]
                settled = int(max(near) - min(near) < 2e-3)
                table.append((c["name"], p, k, f"{rows[k][i + 1]:.6f}", settled, f"{peaks[i]:.6f}"))
    path = HERE / "waves.csv"
    if "--check" in sys.argv:
        old = list(csv.DictReader(path.open()))
        assert len(old) == len(table), (len(old), len(table))
        worst = max(abs(float(a["volts"]) - float(b[3])) for a, b in zip(old, table))
        print(f"{len(table)} values, largest difference {worst:.1e} V")
        sys.exit(worst > 2e-5)
    (HERE / "circuits.json").write_text(json.dumps(CIRCUITS, indent=1) + "\n")
    with path.open("w", newline="") as f:
        w = csv.writer(f, lineterminator="\n")
        w.writerow(["circuit", "node", "time_ns", "volts", "settled", "peak_v"])
        w.writerows(table)
    print(len(table), "values")


main()
