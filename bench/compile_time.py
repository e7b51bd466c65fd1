# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Seconds of processor time to compile a file that includes one public header and nothing else,
without optimisation. CXX names the compiler; words on the command line are parts of the names of
the headers that are wanted."""

import os
import resource
import subprocess
import sys
from pathlib import Path

INCLUDE = Path(__file__).resolve().parent.parent / "include"


def spent():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main():
    compiler = os.environ.get("CXX", "g++")
    for header in sorted(str(path.relative_to(INCLUDE)) for path in INCLUDE.rglob("*.hpp")):
        if sys.argv[1:] and not any(word in header for word in sys.argv[1:]):
            continue
        before = spent()
        subprocess.run([compiler, "-std=c++20", "-O0", "-I", INCLUDE, "-x", "c++", "-c",
                        "-o", os.devnull, "-"],
                       input=f'#include "{header}"\n', text=True, check=True)
        print(f"{spent() - before:5.2f} s  {header}", flush=True)


if __name__ == "__main__":
    main()
