#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Many live sessions at once, each `stilling settle --stamp --record` at the end of a pipe: is a
row lost, does memory grow, how much of a processor do they take?"""

import argparse
import json
import os
import select
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "cli"))
from command import start  # noqa: E402
from watched import core_seconds, resident  # noqa: E402

FIELDS = "stack_temp_degF,o2_pct,co_ppm"


class Session:
    """One process, what it was sent and what it said."""

    def __init__(self, number, folder):
        self.number = number
        self.record = Path(folder) / f"{number}.csv"
        self.process = start("settle", "--jsonl", "--stamp", "--fields", FIELDS,
                             "--record", self.record)
        for pipe in (self.process.stdin, self.process.stdout, self.process.stderr):
            os.set_blocking(pipe.fileno(), False)
        self.sent, self.waiting, self.said = 0, b"", b""

    def send(self, row):
        self.waiting += row
        self.sent += 1
        try:
            self.waiting = self.waiting[os.write(self.process.stdin.fileno(), self.waiting):]
        except BlockingIOError:
            pass  # it does not keep up; the row waits here

    def listen(self):
        try:
            while piece := os.read(self.process.stdout.fileno(), 65_536):
                self.said += piece
        except BlockingIOError:
            pass

    def end(self):
        for pipe in (self.process.stdin, self.process.stdout, self.process.stderr):
            os.set_blocking(pipe.fileno(), True)
        self.process.stdin.write(self.waiting)
        self.process.stdin.close()
        self.said += self.process.stdout.read()
        self.process.stdout.close()
        complaint = self.process.stderr.read().decode()
        self.process.stderr.close()
        self.process.wait(60)
        kept = sum(not line.startswith(b"#") for line in self.record.read_bytes().splitlines()) - 1
        last = json.loads(self.said.splitlines()[-1])
        return last["rows"], last["frames"], last["plateaus"], kept, complaint


def row_of(session, i, per_second):
    """A level of its own that moves every two minutes, under a display that dithers."""
    moved = i // (120 * per_second) % 2
    stack = 400 + 5 * session + 40 * moved + (i * 7 // 3) % 2
    return f"{stack},5.{(i + session) % 2},20\n".encode()


def main():
    asked = argparse.ArgumentParser(description=" ".join(__doc__.split()))
    asked.add_argument("--sessions", type=int, default=16)
    asked.add_argument("--per-second", type=int, default=100)
    asked.add_argument("--seconds", type=int, default=600)
    asked = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        sessions = [Session(k, folder) for k in range(asked.sessions)]
        print(f"{asked.sessions} sessions, {asked.per_second} rows a second each, "
              f"{os.cpu_count()} processors")
        print("  minute   MiB, the largest   % of a processor, all   rows waiting", flush=True)
        begun, told, late, memory, used_before = time.monotonic(), 0, 0.0, [], 0.0
        for i in range(asked.seconds * asked.per_second):
            due = begun + i / asked.per_second
            while (left := due - time.monotonic()) > 0:
                for ready in select.select([s.process.stdout for s in sessions], [], [], left)[0]:
                    next(s for s in sessions if s.process.stdout is ready).listen()
            late = max(late, -left)
            for s in sessions:
                s.send(row_of(s.number, i, asked.per_second))
            if (i + 1) % (60 * asked.per_second) == 0:
                told += 1
                used = sum(core_seconds(s.process.pid) for s in sessions)
                memory.append(max(resident(s.process.pid) for s in sessions))
                waiting = sum(s.waiting.count(b"\n") for s in sessions)
                print(f"{told:8}{memory[-1]:15.1f}{(used - used_before) / 60 * 100:23.1f}"
                      f"{waiting:15}", flush=True)
                used_before = used
        took = time.monotonic() - begun
        ends = [s.end() for s in sessions]
        sent = sum(s.sent for s in sessions)
        print(f"{sent} rows sent in {took:.0f} s, a row at most {1000 * late:.0f} ms late; "
              f"{sum(e[0] for e in ends)} read, {sum(e[1] for e in ends)} judged, "
              f"{sum(e[3] for e in ends)} recorded, {sum(e[2] for e in ends)} plateaus")
        for complaint in {e[4] for e in ends if e[4]}:
            print(complaint, end="")
        if len(memory) > 2:
            print(f"memory from minute 2 on: {memory[1]:.1f} to {max(memory[1:]):.1f} MiB")
        return 0 if all(s.sent == e[0] == e[3] for s, e in zip(sessions, ends)) else 1


if __name__ == "__main__":
    sys.exit(main())
