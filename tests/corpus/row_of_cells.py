#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Invented tests of a second plant, with their truth, for score.py.

    row_of_cells.py FOLDER FIRST_SEED LAST_SEED [--flutter FACTOR]

Shares no code with tools/simulate and none of its assumptions: the heat exchanger is a row of cells
that gas flows along and water carries heat from, so that no course is an exponential; air comes
past a damper that sticks and slips, and flutters with correlation times of seconds to minutes;
noise has heavy tails and a memory. Ranges are judgement, not measurements of any appliance. What
"truly steady" means is README.md's: over the trailing 60 s the noise-free signal, as sensed, spans
at most 3 degF, 0.1 % and 5 ppm, and a fire burned with the probe in.
"""

import argparse
import json
import math
import random
from pathlib import Path

LIMITS = {"stack_temp_degF": 3.0, "o2_pct": 0.1, "co_ppm": 5.0}
AIR_O2 = 20.9
RANGE_S = 60
SHORTEST_S = 10
CAUSE_WITHIN_S = 150


class Wander:
    """A sum of first-order noises, each with a correlation time of its own."""

    def __init__(self, draw, parts):
        self.draw = draw
        self.parts = [[size, math.exp(-1 / tau), size * draw.gauss(0, 1)] for size, tau in parts]

    def step(self):
        for part in self.parts:
            size, keep, x = part
            part[2] = keep * x + size * math.sqrt(1 - keep * keep) * self.draw.gauss(0, 1)
        return sum(x for _, _, x in self.parts)


class StickingDamper:
    """Follows what the draft asks of it only once the difference overcomes its friction."""

    def __init__(self, draw):
        self.friction = draw.uniform(0.001, 0.006)
        self.slip = draw.uniform(0.5, 1.0)
        self.at = 0.0

    def follow(self, asked):
        if abs(asked - self.at) > self.friction:
            self.at += self.slip * (asked - self.at)
        return self.at


class Exchanger:
    """Gas along a row of cells of iron, each giving heat to water that warms as a whole."""

    CELLS = 12

    def __init__(self, draw, room, flow):
        self.iron = [room] * self.CELLS
        self.water = room
        self.iron_mass = draw.uniform(500, 2500)      # J/K of each cell
        self.water_mass = draw.uniform(3e4, 2.5e5)    # J/K
        self.to_iron = draw.uniform(0.16, 0.24) * flow  # W/K of each cell
        self.to_water = draw.uniform(12, 40)          # W/K of each cell
        self.load = draw.uniform(20, 30) * flow / 1.5  # W/K from the water to the house
        self.room = room

    def step(self, gas, flow):
        """One second; `gas` enters at so many degC with `flow` W/K. What leaves, degC."""
        share = 1 - math.exp(-self.to_iron / max(flow, 1.0))
        heat = 0.0
        for i, iron in enumerate(self.iron):
            given = flow * share * (gas - iron)
            gas -= share * (gas - iron)
            passed = self.to_water * (iron - self.water)
            self.iron[i] = iron + (given - passed) / self.iron_mass
            heat += passed
        self.water += (heat - self.load * max(self.water - self.room, 0)) / self.water_mass
        return gas


class Lag:
    def __init__(self, seconds, x):
        self.share, self.x = 1 - math.exp(-1 / max(seconds, 0.1)), x

    def step(self, x):
        self.x += self.share * (x - self.x)
        return self.x


class Heavy:
    """Noise with Student tails (5 degrees of freedom) and a memory, standard deviation about 1."""

    def __init__(self, draw, memory_s, every_s):
        self.draw, self.keep, self.x = draw, math.exp(-every_s / memory_s), 0.0

    def step(self):
        chi = self.draw.gammavariate(2.5, 2.0)
        fresh = self.draw.gauss(0, 1) / math.sqrt(chi / 5) / math.sqrt(5 / 3)
        self.x = self.keep * self.x + math.sqrt(1 - self.keep * self.keep) * fresh
        return self.x


def plan_of(draw):
    """(second, what, amount): ignition, turns of the air, a probe out and back, burner off."""
    at = draw.uniform(30, 120)
    events = [(at, "ignition", 0.0)]
    at += draw.uniform(600, 1300)
    for _ in range(draw.randint(0, 3)):
        events.append((at, "air_turned", draw.choice([-1, 1]) * draw.uniform(0.02, 0.12)))
        at += draw.uniform(240, 600)
    if draw.random() < 0.3:
        events.append((at, "probe_out", 0.0))
        at += draw.uniform(40, 120)
        events.append((at, "probe_in", 0.0))
        at += draw.uniform(240, 500)
    if draw.random() < 0.7:
        events.append((at, "burner_off", 0.0))
        at += draw.uniform(90, 200)
    return events, int(at)


def course_of(draw, events, length, flutters):
    """Seconds: (sensed stack degF, O2 %, CO ppm, ambient degF, fires and probe in)."""
    room = draw.uniform(12, 28)
    heat = draw.uniform(10, 24)                       # W/K of gas per unit of air
    exchanger = Exchanger(draw, room, 1.3 * heat)
    damper = StickingDamper(draw)
    size = flutters * draw.uniform(0.0001, 0.0008)
    flutter = Wander(draw, [(size, draw.uniform(1, 4)), (size, draw.uniform(10, 40))])
    weather = Wander(draw, [(draw.uniform(0.001, 0.004), draw.uniform(200, 900))])
    ratio = draw.uniform(1.2, 1.5)
    flame = draw.uniform(1500, 1750)                  # degC at an air ratio of 1
    monoxide = draw.uniform(5, 40)
    burning, inside, lit = False, True, -1e9
    couple = [Lag(draw.uniform(2, 8), room), Lag(draw.uniform(1, 4), room)]
    line = [AIR_O2, ] * draw.randint(2, 12)
    line_co = [0.0] * len(line)
    cell = [Lag(draw.uniform(2, 7), AIR_O2), Lag(draw.uniform(10, 40), AIR_O2)]
    cell_co = [Lag(draw.uniform(4, 12), 0.0), Lag(draw.uniform(15, 50), 0.0)]
    slow = draw.uniform(0, 0.1)                       # of a cell's answer that comes late
    waiting = list(events)
    for second in range(length):
        while waiting and waiting[0][0] <= second:
            _, what, amount = waiting.pop(0)
            if what == "ignition":
                burning, lit = True, second
            elif what == "burner_off":
                burning = False
            elif what == "air_turned":
                ratio = min(max(ratio + amount, 1.15), 1.7)
            else:
                inside = what == "probe_in"
        air = ratio * (1 + damper.follow(weather.step()) + flutter.step())
        if burning:
            gas_in = room + flame / air
            stack = exchanger.step(gas_in, heat * air)
            oxygen = AIR_O2 * (air - 1) / (air - 0.07)
            carbon = monoxide * (1 + (1.25 / air) ** 12 + 0.3 * max(air - 1.35, 0) / 0.1)
            carbon += 600 * math.exp(-(second - lit) / 12)
        else:
            stack = exchanger.step(room, 0.3 * heat)
            oxygen, carbon = AIR_O2, 0.0
        seen = stack if inside else room
        for lag in couple:
            seen = lag.step(seen)
        line.append(oxygen if inside else AIR_O2)
        line_co.append(carbon if inside else 0.0)
        o2, co = line.pop(0), line_co.pop(0)
        o2 = (1 - slow) * cell[0].step(o2) + slow * cell[1].step(o2)
        co = (1 - slow) * cell_co[0].step(co) + slow * cell_co[1].step(co)
        yield seen * 1.8 + 32, o2, co, room * 1.8 + 32, burning and inside


def truth_of(name, seed, events, seconds):
    held, ok, ratios = 0, [], []
    for i, now in enumerate(seconds):
        held = held + 1 if now[4] else 0
        ok.append(held > RANGE_S)
        past = seconds[max(0, i - RANGE_S):i + 1]
        worst = 0.0
        for k, limit in enumerate(LIMITS.values()):
            values = [row[k] for row in past]
            worst = max(worst, (max(values) - min(values)) / limit)
        ratios.append(min(99.0, worst))
    intervals, i = [], 0
    while i < len(seconds):
        if not (ok[i] and ratios[i] <= 1):
            i += 1
            continue
        end = i
        while end + 1 < len(seconds) and ok[end + 1] and ratios[end + 1] <= 1:
            end += 1
        if end - i >= SHORTEST_S:
            cause = None
            for at, kind, _ in events:
                if end + 1 < len(seconds) and max(i, end - CAUSE_WITHIN_S) < at <= end + 1:
                    cause = {"t_s": at, "kind": kind}
            intervals.append({"from_s": i, "to_s": end, "after_gap": False, "ended_by": cause})
        i = end + 1
    return {"name": name, "family": "row_of_cells", "scenario": "row_of_cells", "seed": seed,
            "invented": True, "limits_per_min": LIMITS, "clock": [[0, 0]], "blind": [],
            "events": [{"t_s": at, "kind": kind} for at, kind, _ in events],
            "intervals": intervals,
            "grid": {"ok": "".join("1" if x else "0" for x in ok),
                     "ratio": [round(r, 3) for r in ratios],
                     "sensed": {key: [round(row[k], 4) for row in seconds]
                                for k, key in enumerate(LIMITS)}}}


def log_of(draw, seconds):
    every = draw.choice([1, 1, 2, 3])
    sizes = (draw.uniform(0.2, 1.0), draw.uniform(0.005, 0.03), draw.uniform(0.2, 1.2))
    noise = [Heavy(draw, draw.uniform(0.5, 12), every) for _ in sizes]
    lines = ["time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm"]
    for t in range(0, len(seconds), every):
        stack, o2, co, ambient, _ = seconds[t]
        stack += sizes[0] * noise[0].step()
        o2 += sizes[1] * noise[1].step()
        co += sizes[2] * noise[2].step()
        if draw.random() < 0.01:
            continue
        o2, co = min(max(o2, 0), AIR_O2), max(co, 0)
        lines.append(f"{t},{stack:.0f},{ambient:.0f},{o2:.2f},{co:.0f}")
    return "\n".join(lines) + "\n"


def main():
    arguments = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("first", type=int)
    arguments.add_argument("last", type=int)
    arguments.add_argument("--flutter", type=float, default=1, metavar="FACTOR",
                           help="so many times the flutter of the air, another truth")
    given = arguments.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    for seed in range(given.first, given.last + 1):
        draw = random.Random(f"row of cells {seed}")
        name = f"row_of_cells-s{seed}"
        events, length = plan_of(draw)
        seconds = list(course_of(draw, events, length, given.flutter))
        truth = truth_of(name, seed, events, seconds)
        (given.folder / f"{name}.csv").write_text(log_of(draw, seconds))
        (given.folder / f"{name}.truth.json").write_text(json.dumps(truth) + "\n")


if __name__ == "__main__":
    main()
