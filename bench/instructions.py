# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Instructions per row of eight channels that each stage costs, counted by valgrind's callgrind:
the same on a busy machine and an idle one. Over the invented half hour of invented_rows.hpp."""

import os
import re
import subprocess
import sys
import tempfile

STAGES = ("screen instrument steadiness gas_path fire successive_readings phases prescribed_mean "
          "plateau practice_sampling").split()


def counted(program, per_second, stage):
    """Instructions of one pass of the chain up to that stage, per row."""
    with tempfile.TemporaryDirectory() as folder:
        told = subprocess.run(
            ["valgrind", "--tool=callgrind", f"--callgrind-out-file={folder}/out",
             "--toggle-collect=*pass_over*", program, str(per_second), stage],
            capture_output=True, text=True, check=True).stderr
    return int(re.search(r"Collected : (\d+)", told)[1]) / (per_second * 1800)


def main():
    program = os.environ.get("BENCH_STAGES", "build/bench/bin/bench_stages")
    rates = [int(word) for word in sys.argv[1:]] or [1, 5, 10]
    for per_second in rates:
        print(f"{per_second} rows a second: instructions per row of eight channels")
        before = 0
        for stage in STAGES:
            now = counted(program, per_second, stage)
            print(f"  {stage:22} {now - before:6.0f} {now:8.0f}", flush=True)
            before = now


if __name__ == "__main__":
    main()
