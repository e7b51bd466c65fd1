#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""How long a row on a serial line waits for its verdict, at a thousand rows a second.

A pseudo-terminal stands for the line. A row's time runs from just before it is written to when its
answer was read, both here; `cat` on the same way shows what the way itself takes.
"""

import argparse
import os
import select
import signal
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "cli"))
from command import ENVIRONMENT, HEADER, STILLING  # noqa: E402
from live import SerialLine, wait_until  # noqa: E402


def waits(line, out, rows, per_second, first_line):
    """Seconds that each row waited, and how many answers each got."""
    sent, waited, answers = [], [None] * rows, [0] * rows
    held = b""
    begun = time.perf_counter() + 0.1
    quiet_since = None
    while True:
        now = time.perf_counter()
        if len(sent) < rows and now >= begun + len(sent) / per_second:
            i = len(sent)
            row = f"{i / per_second:.4f},{450 + (i * 7 // 3) % 2},68,5.{i % 2},20\n"
            sent.append(time.perf_counter())
            line.send(row)
            continue
        due = begun + len(sent) / per_second - now if len(sent) < rows else 1.0
        if not select.select([out], [], [], max(0.0, due))[0]:
            if len(sent) == rows:
                return waited, answers
            continue
        got = time.perf_counter()
        held += os.read(out, 65_536)
        *whole, held = held.split(b"\n")
        for row in whole:
            i = first_line(row)
            if i is not None:
                answers[i] += 1
                waited[i] = got - sent[i]


def run(words, rows, per_second, head, which):
    line = SerialLine()
    process = subprocess.Popen([w.replace("LINE", line.name) for w in words],
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=ENVIRONMENT)
    wait_until(lambda: any(os.path.exists(f) and os.readlink(f) == line.name for f in
                           (f"/proc/{process.pid}/fd/{n}" for n in range(12))), "the start")
    line.send(head)
    waited, answers = waits(line, process.stdout.fileno(), rows, per_second, which)
    process.send_signal(signal.SIGINT)
    process.communicate()
    line.pull()
    return waited, answers


def at(share, waited):
    return f"{sorted(waited)[min(len(waited) - 1, int(share * len(waited)))] * 1e3:8.3f}"


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--seconds", type=int, default=60)
    asked.add_argument("--per-second", type=int, default=1000)
    asked = asked.parse_args()
    rows = asked.seconds * asked.per_second
    print(f"{rows} rows, {asked.per_second} a second; waits in ms")
    print("                        median      90 %      99 %    99.9 %      most   answered once")
    status = 0
    for name, words, head, which in (
            ("cat", ["cat", "LINE"], "", lambda row: round(float(row.split(b",")[0])
                                                           * asked.per_second)),
            ("look verdicts", [STILLING, "look", "verdicts", "--device", "LINE"], HEADER + "\n",
             lambda row: None if row.startswith(b"time") else int(row.split(b",")[1]) - 2)):
        waited, answers = run(words, rows, asked.per_second, head, which)
        known = [w for w in waited if w is not None]
        print(f"{name:20}" + "  ".join(at(share, known) for share in (.5, .9, .99, .999, 1)),
              f"{answers.count(1):8} of {rows}")
        status |= answers.count(1) != rows
    return status


if __name__ == "__main__":
    sys.exit(main())
