"""Writes small questions to the pipe, one a line: everything in them is invented, and the same for the same count.

    make_jobs.py COUNT > jobs.jsonl

A mix of every question, some whole jobs, and some that have a fault and must be refused alike everywhere.
"""

import json
import random
import sys
from pathlib import Path

WHOLE_JOB = Path(__file__).parents[2] / "tests" / "jobs" / "one_run.toml"


def network(dice):
    """Tape of one to four emitters behind a feeder, fed at one end or both."""
    colours = ["red", "green", "blue", "white"][: dice.randint(1, 4)]
    cells = dice.randint(5, 80)
    fed = [0] if dice.random() < 0.6 else [0, cells - 1]

    def rail(node, milliohms):
        joints = [{"cell": cell, "node": node, "resistance": "2 mΩ"} for cell in fed]
        return {"links": f"{milliohms} mΩ", "attachments": joints}

    def string(colour):
        count = 9 if colour == "red" else 6
        diode = {
            "forward_voltage": "2.1 V" if colour == "red" else "3 V",
            "at_current": "20 mA",
            "ideality": 2.0,
            "series_resistance": "3 ohm",
        }
        return {"series": {"diode": diode, "count": count, "ballast": f"{dice.randint(200, 400)} ohm"}}

    feeder = f"{dice.randint(20, 300)} mΩ"
    links = [{"name": "common", "from": "plus", "to": "pad", "resistance": feeder}]
    emitters = []
    for colour in colours:
        links.append({"name": colour, "from": f"pad {colour}", "to": "minus", "resistance": feeder})
        emitters.append({"name": colour, "law": colour, "rail": rail(f"pad {colour}", dice.randint(2, 9))})
    return {
        "nodes": ["plus", "minus", "pad"] + [f"pad {colour}" for colour in colours],
        "links": links,
        "sources": [{"name": "supply", "plus": "plus", "minus": "minus", "set_point": "24 V", "tolerance": "2 %"}],
        "laws": [{"name": colour, "load": string(colour)} for colour in colours],
        "tapes": [{"name": "tape", "cells": cells, "common": rail("pad", dice.randint(1, 5)), "emitters": emitters}],
        "corner": dice.choice(["low", "nominal", "high"]),
    }


def run(dice):
    """A run of plain tape from one place, two wires to choose from."""
    diode = {"forward_voltage": "3 V", "at_current": "20 mA", "ideality": 2.0, "series_resistance": "3 ohm"}
    load = {"series": {"diode": diode, "count": 6, "ballast": "300 ohm"}}
    rail = f"{dice.randint(4, 12)} mΩ"
    return {
        "run": "shelf",
        "tape": {
            "pitch": "50 mm",
            "rated": "24 V",
            "common": rail,
            "emitters": [{"name": "white", "rail": rail, "load": load}],
        },
        "increments": dice.randint(20, 160),
        "places": [{"place": "box", "to_start": f"{dice.randint(1, 15)} m", "to_end": f"{dice.randint(1, 25)} m"}],
        "wires": [
            {"cable": "thin", "cores": 2, "core": "20 mΩ/m", "price_per_metre": 60},
            {"cable": "thick", "cores": 2, "core": "8 mΩ/m", "price_per_metre": dice.randint(90, 200)},
        ],
        "source": {"set_point": {"low": "23.76 V", "nominal": "24 V", "high": "24.24 V"}},
        "limits": {"least_current": f"{dice.randint(60, 90)} %"},
        "costs": {"per_segment": 300, "per_feed": 800, "per_break": 200},
    }


def cut(dice):
    """Pieces of profile from bars of two or three metres."""
    pieces = [{"id": f"P{n}", "length": f"{dice.randint(200, 2900)} mm"} for n in range(dice.randint(3, 30))]
    bars = [("2 m", "2 m", 1900), ("3 m", "3 m", 2700)]
    return {
        "what": "profile",
        "kerf": f"{dice.randint(2, 5)} mm",
        "stock": [{"name": name, "length": length, "price": price} for name, length, price in bars],
        "pieces": pieces,
        "objective": dice.choice(["least_bars", "least_cost"]),
    }


def supplies(dice):
    """Loads in two places to two kinds of supply."""
    loads = []
    for n in range(dice.randint(2, 14)):
        watts = dice.randint(8, 70)
        loads.append({
            "id": f"L{n}", "volts": "24 V", "current": {"A": watts / 24.0}, "power": {"W": float(watts)},
            "place": dice.choice(["box", "attic"]), "zone": dice.choice(["north", "south"]),
        })
    kinds = [("small", 96, 1, 4200), ("large", 192, 2, dice.randint(6500, 8500))]
    return {
        "what": "supplies",
        "loads": loads,
        "kinds": [
            {"name": name, "volts": "24 V", "power": f"{watts} W", "outputs": outputs, "output_current": "4.2 A",
             "derating": "100 %", "price": price}
            for name, watts, outputs, price in kinds
        ],
    }


def chain(dice):
    """A daisy chain, terminated or not."""
    kind = {"device": {"unit_loads": dice.choice(["1/4", "1"])}}
    parts = [{"name": f"D{n}", "length": f"{dice.randint(2, 20)} m", "kind": kind} for n in range(dice.randint(2, 12))]
    if dice.random() < 0.7:
        parts[-1]["terminator"] = "120 ohm"
    return {"chain": {"name": "line", "cable": {"kind": "data_pair", "awg": 24}, "parts": parts}, "signal": dice.random() < 0.5}


def conductor(dice):
    """A conductor of a size, or of any area."""
    asked = {
        "length": f"{dice.randint(1, 40)} m", "current": f"{dice.randint(1, 12)} A",
        "temperature": f"{dice.randint(20, 75)} °C",
    }
    if dice.random() < 0.4:
        return asked | {"area": f"{dice.randint(5, 400) / 10} mm²"}
    size = dice.choice(["18 AWG", "14 AWG", "0.75 mm²", "1.5 mm²", "2.5 mm²"])
    return asked | {"size": size, "insulation": "75 °C", "installed": dice.choice(["iec C", "us 310.16"])}


def job(dice):
    """A whole job: one run of another length."""
    text = WHOLE_JOB.read_text(encoding="utf-8")
    length = f"{dice.randint(800, 9000)} mm"
    return {"toml": text.replace("5.63 m", length).replace("7.2 m", f"{dice.randint(2, 20)} m"), "name": "job.toml"}


def faulty(dice):
    """A question with something wrong in it."""
    return dice.choice([
        ("cuts", {}),
        ("cut", {"what": "profile", "pieces": [{"id": "P", "length": "5 V"}]}),
        ("cut", {"what": "profile", "pieces": [{"id": "P", "length": "-1 m"}, {"id": "P", "length": "0 m"}]}),
        ("conductor", {"size": "18"}),
        ("job", {"toml": "schema = 1\n[[run]]\n"}),
        ("network", {"nodes": ["plus"], "sources": [
            {"name": "supply", "plus": "plus", "minus": "minsu", "set_point": "24 V"}]}),
    ])


QUESTIONS = {network: 28, cut: 18, supplies: 13, conductor: 13, run: 12, chain: 8, job: 6, faulty: 2}


def main():
    dice = random.Random(20260)
    for number in range(int(sys.argv[1])):
        (question,) = dice.choices(list(QUESTIONS), list(QUESTIONS.values()))
        if question is faulty:
            name, asked = faulty(dice)
        else:
            name, asked = question.__name__, question(dice)
        print(json.dumps({"id": number, "question": name, "input": asked}, ensure_ascii=False))


if __name__ == "__main__":
    sys.stdout.reconfigure(encoding="utf-8")
    main()
