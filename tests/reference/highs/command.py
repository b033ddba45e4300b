"""What both generators do with their instances.

write OUT.csv   solve the instances and write them with their optima
check           make the instances of the committed file again, solve them again, compare
time            solve the instances of the committed file, print "id,seconds" of each: the least of
                nine runs, of fewer once they have taken 0.3 s; making the columns is not counted
"""
import csv
import os
import sys
import time


def run(name, head, source, instances, solve):
    """`instances(used)` yields the cells of an instance and what builds its programme."""
    act = sys.argv[1] if len(sys.argv) > 1 else ""
    if act == "write" and len(sys.argv) == 3:
        write(sys.argv[2], head, source, instances, solve)
    elif act in ("check", "time"):
        again(act, name, head, instances, solve)
    else:
        sys.exit(__doc__)


def write(path, head, source, instances, solve):
    made = 0
    with open(path, "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([*head, "optimum", "status", "source"])
        for cells, build in instances(lambda: made):
            built = build()
            optimum = None if built is None else solve(built)
            if optimum is not None:
                made += 1
                writer.writerow([*cells, optimum, "computed", source])
                file.flush()


def again(act, name, head, instances, solve):
    """Instances that are not in the file were left out when it was written."""
    with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), name), newline="") as file:
        rows = list(csv.DictReader(file))
    at = 0
    for tried, (cells, build) in enumerate(instances(lambda: at)):
        if tried > 20 * len(rows):
            break
        row = rows[at]
        if cells != [row[column] for column in head]:
            continue
        at += 1
        built = build()
        seconds, optimum = [], None
        while len(seconds) < (9 if act == "time" else 1) and sum(seconds) < 0.3:
            start = time.perf_counter()
            optimum = solve(built, None)
            seconds.append(time.perf_counter() - start)
        if str(optimum) != row["optimum"]:
            sys.exit(f"{name}, {row['id']}: HiGHS has {optimum}, the file {row['optimum']}")
        if act == "time":
            print(f"{row['id']},{min(seconds):.7f}", flush=True)
    if at != len(rows):
        sys.exit(f"{name}: {rows[at]['id']} does not come from the generator")
    if act == "check":
        print(f"{name}: {at} instances made again, every optimum the same")
