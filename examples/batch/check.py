"""Compares the answers of a cluster with those of one process: each once, the same byte for byte.

    check.py jobs.jsonl one_machine.jsonl results.jsonl
    check.py --self-test jobs.jsonl one_machine.jsonl results.jsonl

The self-test spoils the results (one wrong, one twice, one lost, one of nobody) and fails unless each is caught.
"""

import json
import sys
from collections import Counter
from pathlib import Path


def id_of(line):
    return json.loads(line)["id"]


def faults(jobs, one_machine, results):
    """All that is wrong with the results."""
    asked = [id_of(line) for line in jobs]
    expected = dict(zip(asked, one_machine))
    found = [f"{len(asked)} questions, {len(one_machine)} answers of one machine"] if len(asked) != len(one_machine) else []
    found += [f"one machine answered {id_of(line)} where {at} was asked" for at, line in expected.items() if id_of(line) != at]
    counts = Counter(id_of(line) for line in results)
    found += [f"{at}: {counts[at]} answers" for at in asked if counts[at] != 1]
    found += [f"{at}: answered and never asked" for at in counts if at not in expected]
    for line in results:
        at = id_of(line)
        if at in expected and line != expected[at]:
            found.append(f"{at}: another answer than that of one machine")
    return found


def spoiled(results):
    """Results with one thing wrong, what it is, and the word that must be said of it."""
    at = len(results) // 2
    line = results[at]
    wrong = line.replace(b'"answer"', b'"anwser"').replace(b'"error"', b'"eror"')
    nobody = b'{"id":-1,"answer":{}}'
    yield "one wrong", results[:at] + [wrong] + results[at + 1:], "another answer"
    yield "one twice", results + [line], "2 answers"
    yield "one lost", results[:at] + results[at + 1:], "0 answers"
    yield "one of nobody", results + [nobody], "never asked"


def main():
    arguments = sys.argv[1:]
    self_test = arguments[:1] == ["--self-test"]
    jobs, one_machine, results = (Path(name).read_bytes().splitlines() for name in arguments[self_test:])
    if not jobs:
        sys.exit("nothing was asked")
    if self_test:
        for what, lines, word in spoiled(results):
            found = faults(jobs, one_machine, lines)
            if len(found) != 1 or word not in found[0]:
                sys.exit(f"{what} was not caught: {found}")
        print("one wrong, one twice, one lost and one of nobody are each caught")
        return
    found = faults(jobs, one_machine, results)
    for line in found[:20]:
        print(line)
    if found:
        sys.exit(f"{len(found)} faults")
    refused = sum("error" in json.loads(line) for line in results)
    print(f"{len(results)} answers, each once and as one machine gives it; {refused} of them refusals")


if __name__ == "__main__":
    main()
