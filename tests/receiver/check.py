#!/usr/bin/env python3
"""Receives what `examples/send.rs` sends, and compares every slot with the schedule of addresses.

    check.py ADDRESSES.csv PORT COMMAND...

ADDRESSES.csv is the schedule written by `plan --out`. COMMAND is started once the receiver listens on
127.0.0.1. Levels expected: README of this folder; they are worked out here from the schedule, not taken
from the sender. The receiver is the public package `sacn` 1.11.0, which decodes the octets by its own code.

Exit codes: 0 every slot as scheduled, 1 a slot differs or is missing, 2 nothing could be compared.
"""
import csv
import logging
import socket
import subprocess
import sys
import threading
import time

import sacn
from sacn.receiving.receiver_socket_base import ReceiverSocketBase

SLOTS = 512


class Loopback(ReceiverSocketBase):
    """A socket that hears this machine only; the package's own hears every network."""

    def __init__(self, port):
        super().__init__(listener=None)
        self.seen = []
        self._socket = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        self._socket.bind(("127.0.0.1", port))
        self._socket.settimeout(0.1)
        self._on = True
        self._thread = threading.Thread(target=self._listen, daemon=True)

    def hand_to(self, listener):
        self._listener = listener

    def start(self):
        self._thread.start()

    def _listen(self):
        while self._on:
            self._listener.on_periodic_callback(time.time())
            try:
                data = self._socket.recv(2048)
            except socket.timeout:
                continue
            self.seen.append(data)
            self._listener.on_data(list(data), time.time())

    def stop(self):
        # The package stops a receiver before it starts it: then there is nothing to close.
        if self._thread.is_alive():
            self._on = False
            self._thread.join()
            self._socket.close()


def schedule(path):
    """Universe -> 512 levels, from the schedule's rows alone."""
    with open(path, newline="", encoding="utf-8") as file:
        # The last row is the fingerprint of the set.
        rows = sorted(list(csv.DictReader(file))[:-1], key=lambda row: (int(row["universe"]), int(row["slot"])))
    order, universes = [], {}
    for row in rows:
        if row["device"] not in order:
            order.append(row["device"])
        first = 16 * (order.index(row["device"]) % 15 + 1)
        levels = universes.setdefault(int(row["universe"]), [0] * SLOTS)
        levels[int(row["slot"]) - 1] = first + int(row["offset"]) % 16
    return universes, len(rows)


def main():
    if len(sys.argv) < 4:
        print(__doc__, file=sys.stderr)
        return 2
    path, port, command = sys.argv[1], int(sys.argv[2]), sys.argv[3:]
    expected, scheduled = schedule(path)
    if not scheduled:
        print(f"{path}: no slots in the schedule", file=sys.stderr)
        return 2
    logging.getLogger("sacn").setLevel(logging.ERROR)
    try:
        loopback = Loopback(port)
    except OSError as error:
        print(f"127.0.0.1, port {port}: {error}; another receiver runs, choose another port", file=sys.stderr)
        return 2
    receiver = sacn.sACNreceiver(socket=loopback)
    loopback.hand_to(receiver._handler)  # 1.11.0 has no public way to give a socket its listener
    received, ended = {}, set()
    for universe in expected:
        receiver.register_listener("universe", lambda packet: received.setdefault(packet.universe, []).append(packet), universe=universe)
    receiver.register_listener("availability", lambda universe, changed: ended.add(universe) if changed == "timeout" else None)
    receiver.start()
    try:
        run = subprocess.run(command, timeout=300, check=False)
        time.sleep(0.3)
    finally:
        receiver.stop()
    if run.returncode != 0:
        print(f"the sender failed with {run.returncode}", file=sys.stderr)
        return 2
    wrong = []
    for universe, levels in expected.items():
        packets = received.get(universe, [])
        if not packets:
            wrong.append(f"universe {universe}: no packet")
        for packet in packets:
            for slot, (want, got) in enumerate(zip(levels, packet.dmxData, strict=True), start=1):
                if want != got:
                    wrong.append(f"universe {universe}, slot {slot:03}: {got:02X} where the schedule has {want:02X}")
            if packet.priority != 100 or packet.dmxStartCode != 0:
                wrong.append(f"universe {universe}: priority {packet.priority}, START code {packet.dmxStartCode}")
        if universe not in ended:
            wrong.append(f"universe {universe}: not ended by its source")
    other = {int.from_bytes(data[113:115], "big") for data in loopback.seen} - set(expected)
    wrong += [f"universe {universe}: not in the schedule" for universe in sorted(other)]
    for line in wrong[:20]:
        print(line, file=sys.stderr)
    print(f"{len(loopback.seen)} packets, {len(expected)} universes, {SLOTS * len(expected)} slots compared, "
          f"{scheduled} of them scheduled: {len(wrong)} differences")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
