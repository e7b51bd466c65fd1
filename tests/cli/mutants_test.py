# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Two thousand damaged logs through the real command, a process each: it ends by itself, with a
status it knows, and with its last word.

The damage is drawn from seeds, so a failure names what brings it back: MUTANTS=NAME:SEED runs that
one, MUTANTS=5000 so many of each log.
"""

import json
import os
import random
import subprocess
import threading
from pathlib import Path

from command import ENVIRONMENT, HEADER, STILLING, CommandTest, main, simulated

CASES = Path(__file__).parent.parent / "cases"
LABELS = ["--labels", "T=stack_temp:degF,O2=o2:pct,CO=co:ppm"]
FIELDS = HEADER + ",draft_breech_inH2O,draft_overfire_inH2O"
LONGEST = 5  # seconds a log of a few kilobytes may take, however damaged


def labelled():
    rows = (f"time_s={t} T={450 + t % 2}F O2=5.{t % 3}% CO: {20 + t % 5} ppm" for t in range(120))
    return "\n".join(rows).encode()


def originals():
    """Ten logs, one of each kind of form; words for the command beside."""
    logs = {name.split(".")[0]: ((CASES / name).read_bytes(), []) for name in (
        "027-reboot-garbage.bin", "030-european.csv", "032-markers.csv", "034b-utf16le.csv",
        "035-twelve-hour-clock.csv", "040-minute-stamps.csv", "044-messy-cells.csv")}
    logs["026-joined-mid-stream"] = ((CASES / "026-joined-mid-stream.txt").read_bytes(),
                                     ["--fields", FIELDS])
    logs["labelled"] = labelled(), LABELS
    logs["visit"] = simulated()[:6000], []
    return logs


PIECES = [b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b"\r", b"\n", b";", b",", b"\t", b"\"", b"#", b"NaN",
          b"1e999", b"-", b"9" * 400, b"\x1b[2J", b"999.0", b"5e20", b"-3276.8",
          b"31.02.2026 24:61",
          b"\ntime_s,stack_temp_degC,o2_fraction\n", b"\ns,degF,%,ppm\n", b" " * 5000,
          b"\xe2\x88\x92",
          b"\n# note\n", b"4611686018.4", b"-4611686018.5", b"%s%n", b"{}", b"=", b":"]


def mutant(log, chance):
    """One to eight wounds of ten kinds."""
    out = bytearray(log)
    for _ in range(chance.randint(1, 8)):
        at = chance.randrange(len(out) + 1)
        size = min(chance.choice((1, 2, 7, 60, 500)), len(out) - at)
        kind = chance.randrange(10)
        if kind == 0:
            out[at:at + size] = b""
        elif kind == 1 and out:
            out[min(at, len(out) - 1)] ^= 1 << chance.randrange(8)
        elif kind == 2:
            out[at:at + size] = chance.randbytes(size)
        elif kind == 3:
            out[at:at] = chance.choice(PIECES)
        elif kind == 4:
            out[at:at] = out[at:at + size] * chance.randint(1, 4)
        elif kind == 5:
            del out[at:]
        elif kind == 6:
            other = chance.randrange(len(out) + 1)
            out[at:at] = out[other:other + size]
        elif kind == 7:
            digit = bytes([48 + chance.randrange(10)])
            out = bytearray(out.replace(digit, chance.choice(PIECES), chance.randint(1, 3)))
        elif kind == 8:
            lines = bytes(out).split(b"\n")
            chance.shuffle(lines)
            out = bytearray(b"\n".join(lines))
        else:
            out[at:at] = chance.randbytes(chance.choice((1, 4, 64)))
    return bytes(out)


class Mutants(CommandTest):
    def complaint_about(self, log, words):
        """What is wrong with how the command took this log; empty: nothing."""
        # The processor's time is limited, not the clock's: others may be at work on the machine.
        limited = ["/bin/sh", "-c", f'ulimit -t {LONGEST}; exec "$@"', "sh"]
        try:
            done = subprocess.run([*limited, STILLING, "settle", "--jsonl", "--verbose", *words],
                                  input=log, capture_output=True, timeout=120, env=ENVIRONMENT)
        except subprocess.TimeoutExpired:
            return "did not end"
        if done.returncode not in (0, 1, 2):
            return f"status {done.returncode}: {done.stderr[-2000:].decode(errors='replace')}"
        lines = done.stdout.decode().split("\n")
        if lines.pop() != "":
            return "the last line has no end"
        try:
            said = [json.loads(line) for line in lines]
        except json.JSONDecodeError as why:
            return f"no JSON: {why}"
        if done.returncode == 2 and not said:
            return "" if done.stderr else "status 2 without a word"
        if not said or said[-1]["event"] != "end":
            return "no last word"
        end = said[-1]
        unused = {e["line"] for e in said if e["event"] == "rejection"}
        if not end["frames"] <= end["rows"] <= end["frames"] + len(unused):
            return f"{end['rows']} rows, {end['frames']} frames, {len(unused)} lines rejected"
        if (done.returncode == 0) != (end["plateaus"] > 0) and done.returncode != 2:
            return f"status {done.returncode} with {end['plateaus']} plateaus"
        return ""

    def test_none_is_too_much_for_the_command(self):
        logs = originals()
        self.assertEqual(len(logs), 10)
        wish = os.environ.get("MUTANTS", "200")
        if ":" in wish:
            todo = [(wish.split(":")[0], int(wish.split(":")[1]))]
        else:
            todo = [(name, seed) for seed in range(int(wish)) for name in logs]
        failed, lock = [], threading.Lock()

        def work():
            while True:
                with lock:
                    if not todo or len(failed) > 5:
                        return
                    name, seed = todo.pop()
                log, words = logs[name]
                why = self.complaint_about(mutant(log, random.Random(f"{name} {seed}")), words)
                if why:
                    with lock:
                        failed.append(f"MUTANTS={name}:{seed}  {why}")

        workers = [threading.Thread(target=work) for _ in range(2)]
        for w in workers:
            w.start()
        for w in workers:
            w.join()
        self.assertEqual(failed, [])

    def test_the_originals_are_read(self):
        for name, (log, words) in originals().items():
            self.assertEqual(self.complaint_about(log, words), "", name)


if __name__ == "__main__":
    main()
