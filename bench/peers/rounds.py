# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Interleaved rounds: every contender once a round, each round in the same order, medians of all,
so that what else the machine does falls on all of them alike."""

import os
import platform
import statistics
import time
from pathlib import Path

ROUNDS = 5


def machine(rounds=ROUNDS):
    """One line on what the figures were measured on."""
    model = platform.processor() or platform.machine()
    try:
        for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
                break
    except OSError:
        pass
    return (f"{model}, {os.cpu_count()} CPUs, Python {platform.python_version()}, "
            f"one thread unless said; {rounds} interleaved rounds, medians")


def interleaved(contenders, rounds=ROUNDS):
    """{name: median seconds}; a contender that returns figures has measured itself: of these the
    medians, one by one."""
    seen = {name: [] for name in contenders}
    for _ in range(rounds):
        for name, work in contenders.items():
            began = time.perf_counter()
            own = work()
            took = time.perf_counter() - began
            seen[name].append(own if isinstance(own, tuple) else took)
    return {name: tuple(map(statistics.median, zip(*times))) if isinstance(times[0], tuple)
            else statistics.median(times) for name, times in seen.items()}


def told(title, results, base):
    """The table; ratios are to `base`: above 1 took so many times as long."""
    print(f"\n{title}")
    for name, seconds in results.items():
        print(f"  {name:<58}{1000 * seconds:>12.2f} ms{seconds / results[base]:>10.2f} x")
