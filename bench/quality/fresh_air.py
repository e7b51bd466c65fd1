#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What two looks at fresh air are worth: readings of invented tests against the gas itself, as
indicated, corrected (--drift-correction), and by two other corrections computed here: interpolated
in time between the looks, and O2 shifted instead of scaled.

    fresh_air.py STILLING FIRST_SEED LAST_SEED [OPTION …]     # options of `stilling settle`
"""

import json
import math
import re
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

SCENARIO = "drifting_between"
RIGHT = {"o2_pct": 20.9, "co_ppm": 0.0}
NUMBER, SPAN = r"(-?[\d.]+) ± [\d.]+ \S+", r"\(([\d:]+) to ([\d:]+)\)"
LOOKS = re.compile(rf"(O2|CO) read {NUMBER} {SPAN} in fresh air before and {NUMBER} {SPAN} after")


def seconds(clock):
    total = 0
    for part in clock.split(":"):
        total = 60 * total + int(part)
    return total


def settled(stilling, log, *options):
    done = subprocess.run([stilling, "settle", "--jsonl", *options, log], capture_output=True,
                          check=False)
    events = [json.loads(line) for line in done.stdout.decode().splitlines()]
    ended = [e for e in events if e["event"] == "plateau" and e["to_s"] is not None]
    return {e["declared_s"]: e for e in ended}, events[-1]["assumptions"]


def looks_in(assumptions):
    """Per cell: what it read before and after, and the middle times of both looks."""
    found = {}
    for words in assumptions:
        if m := LOOKS.search(words):
            cell, before, b0, b1, after, a0, a1 = m.groups()
            found["o2_pct" if cell == "O2" else "co_ppm"] = (
                float(before), (seconds(b0) + seconds(b1)) / 2,
                float(after), (seconds(a0) + seconds(a1)) / 2)
    return found


def score(stilling, seed, folder, options):
    """(cell, errors by each way, whether the plain and the corrected interval hold)"""
    log, truth = folder / "log.csv", folder / "truth.json"
    subprocess.run([stilling, "simulate", SCENARIO, "--seed", str(seed), "--out", log, "--truth",
                    truth], check=True)
    intervals = json.loads(truth.read_text())["intervals"]
    plain, _ = settled(stilling, log, *options)
    corrected, assumptions = settled(stilling, log, "--drift-correction", *options)
    looks = looks_in(assumptions)
    for declared, plateau in corrected.items():
        middle = (plateau["from_s"] + plateau["to_s"]) / 2
        true = [i for i in intervals if i["from_s"] - 60 <= middle <= i["to_s"]]
        for cell, right in RIGHT.items():
            r = plateau["readings"].get(cell, {})
            if not true or "correction" not in r or cell not in looks or declared not in plain:
                continue
            gas, x = true[0]["mean"][cell]["gas"], r["indicated"]
            before, t0, after, t1 = looks[cell]
            in_air = before + (after - before) * (middle - t0) / (t1 - t0)
            moving = x * right / in_air if right else x - in_air
            shifted = x + right - (before + after) / 2
            p = plain[declared]["readings"][cell]
            yield cell, [y - gas for y in (x, r["value"], moving, shifted)], (
                abs(p["value"] - gas) <= p["u"], abs(r["value"] - gas) <= r["u"])


def main():
    if len(sys.argv) < 4:
        sys.exit(__doc__)
    stilling, first, last, *options = sys.argv[1:]
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(int(first), int(last) + 1):
            rows += score(stilling, seed, Path(folder), options)
    print(f"{SCENARIO}, seeds {first} to {last}: root mean square of the error, share of readings "
          "within ±")
    for cell in RIGHT:
        mine = [r for r in rows if r[0] == cell]
        rms = [math.sqrt(statistics.fmean(r[1][i] ** 2 for r in mine)) for i in range(4)]
        held = [statistics.fmean(r[2][i] for r in mine) for i in range(2)]
        nearer = statistics.fmean(abs(r[1][1]) < abs(r[1][0]) for r in mine)
        print(f"{cell:7} n {len(mine)}: indicated {rms[0]:.3f} ({held[0]:.3f}), corrected "
              f"{rms[1]:.3f} ({held[1]:.3f}), nearer in {nearer:.2f}; interpolated {rms[2]:.3f}, "
              f"shifted {rms[3]:.3f}")


if __name__ == "__main__":
    main()
