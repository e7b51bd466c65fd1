# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What judging files costs, beside what others take for reading them alone.

    STILLING=path/to/stilling peers.py [--rows 1000000] [--files 2000] [--rounds 5] [--svg FILE]

A log of a million rows of seven columns, a row a second, is read, judged and told by
`stilling settle`: phases, plateaus, readings with their uncertainty. Peers read the same file into
columns (DuckDB: into sums), and do nothing else. Then many logs, beside reading each with pandas
and a rolling slope of three columns. Peers run in a Python of their own, PEERS_PYTHON or this one;
what is not installed there is left out and said. Ours is the whole process; of peers the work alone
counts, their library loaded. Two figures each: by the clock, and of processors (user and system),
which hardly depends on what else the machine does; ratios are of the latter, but for two threads.
Everything was invented by `stilling simulate`.
"""

import argparse
import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bars import picture
from rounds import interleaved, machine

HERE = Path(__file__).resolve().parent
PYTHON = os.environ.get("PEERS_PYTHON", sys.executable)
SCENARIOS = ("long_burn cold_start staged_firing air_adjustments short_cycling slow_approach "
             "probe_slips rough_signal").split()


def simulated(stilling, scenario, seed):
    """Header and rows, comments left out; of a log with all seven columns, a row a second."""
    text = subprocess.run([stilling, "simulate", scenario, "--seed", str(seed)], check=True,
                          capture_output=True, text=True).stdout
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    return lines[0], lines[1:]


def tests_of(stilling):
    """Invented tests without end."""
    seed = 0
    while True:
        seed += 1
        for scenario in SCENARIOS:
            yield simulated(stilling, scenario, seed)


def one_long_log(stilling, path, rows):
    """Tests on end on one clock, two minutes between them."""
    wanted, now, left = None, 0.0, rows
    with path.open("w", encoding="utf-8") as out:
        for header, lines in tests_of(stilling):
            if wanted is None:
                wanted = header
                out.write(header + "\n")
            if header != wanted:
                continue
            at = now
            for line in lines[:left]:
                stamp, rest = line.split(",", 1)
                at = now + float(stamp)
                out.write(f"{at:.1f},{rest}\n")
            left -= len(lines[:left])
            now = at + 120
            if left <= 0:
                return


def many_logs(stilling, folder, files):
    folder.mkdir()
    paths = []
    for number, (header, lines) in zip(range(files), tests_of(stilling)):
        path = folder / f"{number:04}.csv"
        path.write_text("\n".join([header, *lines]) + "\n", encoding="utf-8")
        paths.append(str(path))
    return paths


class Peer:
    """A contender of one_read.py, which measures itself."""

    def __init__(self, name, paths):
        self.command = [PYTHON, "-B", str(HERE / "one_read.py"), name, *paths]
        self.version = None

    def __call__(self):
        said = subprocess.run(self.command, check=True, capture_output=True, text=True).stdout
        if said.startswith("not installed"):
            return None
        self.version, *seconds = said.split()
        return tuple(map(float, seconds))


def ours(stilling, *words):
    def run():
        began, spent = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([stilling, *words], check=True, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL)
        now = resource.getrusage(resource.RUSAGE_CHILDREN)
        return (time.perf_counter() - began,
                now.ru_utime - spent.ru_utime + now.ru_stime - spent.ru_stime)
    return run


def compared(title, contenders, base, rounds):
    """Prints the table and returns its rows: name, milliseconds of processors, ratio."""
    missing = [name for name, work in contenders.items()
               if isinstance(work, Peer) and work() is None]
    for name in missing:
        print(f"{name}: not installed")
        del contenders[name]
    found = interleaved(contenders, rounds)
    print(f"\n{title:<64}{'clock':>9}{'processors':>14}")
    rows = []
    for name, (clock, spent) in found.items():
        work = contenders[name]
        if isinstance(work, Peer):
            name = re.sub("^(pandas|polars|DuckDB|pyarrow.csv)", rf"\1 {work.version}", name)
        ratio = spent / found[base][1]
        print(f"  {name:<60}{1000 * clock:>8.0f} ms{1000 * spent:>9.0f} ms{ratio:>8.2f} x")
        rows.append((name, 1000 * spent, ratio))
    return rows, found


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--rows", type=int, default=1_000_000)
    asked.add_argument("--files", type=int, default=2000)
    asked.add_argument("--rounds", type=int, default=5)
    asked.add_argument("--svg", type=Path)
    asked = asked.parse_args()
    stilling = os.environ["STILLING"]
    print(machine(asked.rounds))
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "long.csv"
        one_long_log(stilling, log, asked.rows)
        size = log.stat().st_size / 1e6
        base = "stilling settle: read, judged, told (whole process)"
        title = f"a log of {asked.rows} rows of seven columns, {size:.1f} MB"
        tables = [(title, compared(title, {
            base: ours(stilling, "settle", "--jsonl", str(log)),
            "pandas read_csv": Peer("pandas", [str(log)]),
            "polars read_csv, one thread": Peer("polars", [str(log)]),
            "DuckDB read_csv into sums, one thread": Peer("duckdb", [str(log)]),
            "pyarrow.csv read_csv, one thread": Peer("pyarrow", [str(log)]),
        }, base, asked.rounds)[0])]
        paths = many_logs(stilling, Path(folder) / "many", asked.files)
        told = str(Path(folder) / "told")
        base = "stilling settle, one thread (whole process)"
        title = f"{asked.files} logs of about an hour"
        both = "stilling settle, two threads (whole process)"
        rows, found = compared(title, {
            base: ours(stilling, "settle", "--jsonl", "--jobs", "1", "--out", told, *paths),
            both: ours(stilling, "settle", "--jsonl", "--jobs", "2", "--out", told, *paths),
            "pandas read_csv and rolling slopes of three columns": Peer("pandas_slopes", paths),
        }, base, asked.rounds)
        tables.append((title, rows))
        print(f"  two threads by the clock: {found[base][0] / found[both][0]:.2f} times one")
    if asked.svg:
        asked.svg.write_text(picture(tables, machine(asked.rounds)), encoding="utf-8")
        print(f"\nThe picture: {asked.svg}")


if __name__ == "__main__":
    main()
