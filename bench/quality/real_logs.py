#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What the detector makes of logs nobody made for this project (tests/data, licences there).

    STILLING=path/to/stilling BENCH_WARM_UP=path/to/bench_warm_up real_logs.py

Burners stepped through held rates under a hood: each step must end what was settled, and a plateau
begun in a hold must last it. A room that creeps, a solar loop with no labels, and labelled warm-ups
of timings. Windows are README.md's for a row a minute, scaled by the distance between rows; nothing
else is set but what the columns are.
"""

import csv
import gzip
import json
import os
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

LOGS = Path(__file__).parent.parent.parent / "tests" / "data"
FIRE = ["--column", "Time=time:s", "--column", "Tstack=stack_temp:degC",
        "--column", "O2stack=o2:fraction", "--column", "Costack=co:fraction",
        "--column", "TambCal=ambient_temp:degC", "--combustion-check", "off",
        "--require", "stack_temp"]
ROOM = ["--column", "Time=time:s", "--column", "Tree 4-10=stack_temp:degC",
        "--column", "O2-1=o2:fraction", "--missing", "999.0", "--combustion-check", "off",
        "--require", "stack_temp"]
SOLAR = ["--column", "T1_C=stack_temp:degC", "--time-format", "%d.%m.%Y %H:%M",
         "--combustion-check", "off", "--require", "stack_temp"]
HELD = 0.05       # a rate that stays within this share of itself is held
SHORTEST = 300    # s; shorter holds are passed over
LATE = 180        # s; a plateau still there so long after a hold has outlasted it
LIMIT = 3 / 1.8   # degC/min


@dataclass
class Hold:
    start: float
    end: float
    rate: float  # kW


@dataclass
class Plateau:
    declared: float
    start: float
    end: float
    released: float
    why: str


def table_of(path, skipped):
    lines = path.read_text(encoding="utf-8").splitlines()
    names = [n.strip() for n in lines[0].split(",")]
    return [dict(zip(names, (c.strip() for c in line.split(",")))) for line in lines[skipped:]]


def holds_of(series):
    """Spells of (t, rate) in which the rate stays within HELD of where it began."""
    found, first = [], 0
    for i in range(1, len(series) + 1):
        level = series[first][1]
        if i < len(series) and abs(series[i][1] - level) <= HELD * abs(level):
            continue
        if series[i - 1][0] - series[first][0] >= SHORTEST:
            found.append(Hold(series[first][0], series[i - 1][0], level))
        first = i
    return found


def plateaus_of(path, words, minutes_a_row):
    """What `settle` says, windows for rows so far apart."""
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as settings:
        windows = ", ".join(f'"{w * minutes_a_row:g} min"' for w in (5, 10, 15))
        settings.write(f'[criterion]\nwindows = [{windows}]\ngap = "{3 * minutes_a_row:g} min"\n')
        settings.flush()
        said = subprocess.run([os.environ["STILLING"], "settle", "--jsonl", "--settings",
                               settings.name, *words, path], capture_output=True, check=False)
    if said.returncode not in (0, 1):
        raise SystemExit(said.stderr.decode(errors="replace"))
    found, last = {}, 0
    for line in said.stdout.splitlines():
        event = json.loads(line)
        last = event.get("time_s") or last
        if event["event"] == "plateau":
            end = event["to_s"] if event["to_s"] is not None else last
            released = event["released_s"] if event["released_s"] is not None else end
            found[event["declared_s"]] = Plateau(event["declared_s"], event["from_s"], end,
                                                 released, event["end_reason"] or "open")
    return sorted(found.values(), key=lambda p: p.declared)


def slope(points):
    """Least squares, per minute."""
    n = len(points)
    t0, y0 = sum(t for t, _ in points) / n, sum(y for _, y in points) / n
    moment = sum((t - t0) ** 2 for t, _ in points)
    return 60 * sum((t - t0) * (y - y0) for t, y in points) / moment if moment else 0.0


def judge_holds(holds, plateaus, last_s, stack):
    """Lines on each hold, and how many of three things went right of how many."""
    right = {"settled": 0, "kept": 0, "ended": 0}
    asked = {"settled": 0, "kept": 0, "ended": 0}
    lines = []
    for hold in holds:
        inside = [p for p in plateaus if p.declared <= hold.end and p.released > hold.start + LATE]
        part = [(t, y) for t, y in stack if hold.end - 300 <= t <= hold.end]
        rate = slope(part)
        text = f"  {hold.start:6.0f} to {hold.end:5.0f} s  {hold.rate:6.1f} kW  {rate:+6.2f}"
        if not inside:
            lines.append(f"{text}     not settled")
            asked["settled"] += abs(rate) <= LIMIT
            continue
        asked["settled"] += 1
        right["settled"] += 1
        kept = len(inside) == 1 and inside[0].released >= hold.end
        asked["kept"] += 1
        right["kept"] += kept
        after = inside[0].declared - hold.start
        text += f"     settled after {after:4.0f} s" if after >= 0 else "     settled before      "
        given_up = sum(p.released < hold.end for p in inside)
        text += ", kept" if kept else f", given up {given_up} x"
        # A log that ends so soon does not show whether the step would have ended it.
        if hold.end + LATE <= last_s and inside[-1].released >= hold.end:
            late = inside[-1].released - hold.end
            asked["ended"] += 1
            right["ended"] += late <= LATE
            text += f", ended {late:.0f} s after its last row ({inside[-1].why})"
        lines.append(text)
    return lines, right, asked


def fires():
    print("\nBURNERS STEPPED THROUGH HELD RATES, a row each 30 s, stack temperature under a hood.\n"
          "Rate: of the stack in the last five minutes of the hold, degC/min (limit 1.67).")
    for name in ("enclosure_fire.csv", "enclosure_fire_10.csv"):
        rows = table_of(LOGS / name, 2)
        series = [(float(r["Time"]), float(r["HRRburner"])) for r in rows]
        stack = [(float(r["Time"]), float(r["Tstack"])) for r in rows]
        holds = [h for h in holds_of(series) if h.rate > 5]
        plateaus = plateaus_of(LOGS / name, FIRE, 0.5)
        lines, right, asked = judge_holds(holds, plateaus, series[-1][0], stack)
        print(f"{name}: {len(holds)} holds, {len(plateaus)} plateaus")
        print("\n".join(lines))
        print("  " + "; ".join(f"{what} {right[what]} of {asked[what]}" for what in right))


def others():
    rows = table_of(LOGS / "room_fire.csv", 1)
    plateaus = plateaus_of(LOGS / "room_fire.csv", ROOM, 1 / 6)
    print(f"\nroom_fire.csv, 10 s rows to {float(rows[-1]['Time']):.0f} s, a fire that grows all "
          f"along: {len(plateaus)} plateaus (any is wrong)")
    print("\nsolar_loop.csv, a row a minute, no labels: each plateau with the slope of all its "
          "rows,\ndegC/min (limit 1.67).")
    frames = subprocess.run([os.environ["STILLING"], "look", "frames", *SOLAR,
                             LOGS / "solar_loop.csv"], capture_output=True, check=False)
    seen = [(float(r["time_s"]), float(r["stack_temp_degC"]))
            for r in csv.DictReader(frames.stdout.decode().splitlines())]
    begin = min(t for t, _ in seen)
    plateaus = plateaus_of(LOGS / "solar_loop.csv", SOLAR, 1)
    within = 0
    for p in plateaus:
        rate = slope([s for s in seen if p.declared <= s[0] <= p.end] or seen[:1])
        within += abs(rate) <= LIMIT
        print(f"  {(p.declared - begin) / 60:6.0f} to {(p.end - begin) / 60:4.0f} min"
              f"  {rate:+6.2f}  ({p.why})")
    print(f"  {within} of {len(plateaus)} within the limit over their whole length")


def warm_ups():
    print("\nWARM-UPS OF TIMINGS, labelled by others (tests/data/warm_up).")
    with gzip.open(LOGS / "warm_up" / "labels.csv.gz", "rt", encoding="utf-8") as lines:
        labels = {r["column"]: r["last_warmup_iteration"] for r in csv.DictReader(lines)}
    text = []
    for path in sorted((LOGS / "warm_up").glob("series_*.csv.gz")):
        with gzip.open(path, "rt", encoding="utf-8") as lines:
            names, *rows = csv.reader(lines)
        for k, name in enumerate(names):
            text.append(" ".join([labels[name], *(row[k] for row in rows if row[k])]))
    said = subprocess.run([os.environ["BENCH_WARM_UP"]], input="\n".join(text) + "\n",
                          capture_output=True, check=True, text=True)
    print(said.stdout, end="")


if __name__ == "__main__":
    fires()
    others()
    warm_ups()
