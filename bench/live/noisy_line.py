#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Rows at the pace of a serial line, one byte in a hundred hit on the way: what became of them."""

import argparse
import re
import signal
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "cli"))
import noise  # noqa: E402
from live import Running, SerialLine, wait_for_content  # noqa: E402


def main():
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--baud", type=int, default=9600)
    asked.add_argument("--rows", type=int, default=1500)
    asked.add_argument("--seed", type=int, default=1)
    asked = asked.parse_args()
    received, where, chance = noise.noisy_log(asked.rows, 0.01, asked.seed)
    must = {n: what for n, what, _ in noise.fate(received, where) if n > 1}
    line = SerialLine()
    with tempfile.TemporaryDirectory() as folder:
        record = Path(folder) / "record.csv"
        look = Running("look", "frames", "--device", line.name, "--baud", asked.baud,
                       "--record", record)
        begun, sent = time.monotonic(), 0
        for piece in noise.pieces(received, chance):
            sent += len(piece)
            # A byte is ten bits on the line: start, eight of its own, stop.
            ahead = begun + sent * 10 / asked.baud - time.monotonic()
            time.sleep(max(0.0, ahead))
            line.send(piece)
        wait_for_content(record, received[-20:])
        look.finish(signal.SIGINT)
        line.pull()
    rows = {int(row.split(b",")[1]) for row in look.out.splitlines()[1:]}
    told = {int(n) for n in re.findall(rb"\bline (\d+)\b", look.complaints)}
    kept = sum(what == "read" and n in rows for n, what in must.items())
    said = sum(what == "rejected" and n in told and n not in rows for n, what in must.items())
    fates = list(must.values())
    print(f"{len(received)} bytes at {asked.baud} baud in {time.monotonic() - begun:.0f} s, "
          f"{len(where)} of them hit")
    print(f"lines not hit: {fates.count('read')}, read: {kept}")
    print(f"lines hit:     {fates.count('rejected')}, said to be unusable: {said}")
    print(f"pieces that look like rows, cut by a line end that arose: {fates.count('either')}")
    return kept != fates.count("read") or said != fates.count("rejected")


if __name__ == "__main__":
    sys.exit(main())
