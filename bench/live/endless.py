#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A gigabyte through a pipe: how long it takes and how much memory, at the most."""

import argparse
import hashlib
import sys
import tempfile
import time
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "cli"))
import big_pipe_test as big  # noqa: E402


def main():
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--megabytes", type=int, default=1024)
    asked.add_argument("--folder", help="where the file for comparison may lie")
    asked = asked.parse_args()
    size = asked.megabytes << 20
    case = big.BigPipe()
    case.setUp()
    status = 0
    try:
        for name, parts, words in (
                ("invented tests", big.endless_log, ["settle", "--jsonl"]),
                ("invented tests", big.endless_log, ["look", "verdicts"]),
                ("one line", big.one_line, ["settle", "--jsonl"]),
                ("one line", big.one_line, ["settle", "--jsonl", "--stamp"]),
                ("garbage", big.garbage, ["settle", "--jsonl"]),
                ("garbage", big.garbage, ["settle", "--jsonl", "--stamp"])):
            begun = time.monotonic()
            out, _, _, used = case.through_a_pipe(big.sized(parts(), size), *words)
            took = time.monotonic() - begun
            print(f"{name:16}{' '.join(words):26}{took:7.1f} s {size / took / 1e6:7.1f} MB/s  "
                  f"{used / (1 << 20):5.1f} MiB", flush=True)
            status |= used > big.MOST_MEMORY
            if words != ["settle", "--jsonl"] or name != "invented tests":
                continue
            with tempfile.NamedTemporaryFile(dir=asked.folder) as file:
                for part in big.sized(parts(), size):
                    file.write(part)
                file.flush()
                named, _, _, used = case.through_a_pipe([], *words, file.name)
            same = hashlib.sha256(named).digest() == hashlib.sha256(out).digest()
            print(f"{'':16}the same bytes from the file: {'yes' if same else 'NO'}, "
                  f"{out.count(b'plateau')} lines of plateaus, {used / (1 << 20):.1f} MiB")
            status |= not same
    finally:
        unittest.TestCase.doCleanups(case)
    return status


if __name__ == "__main__":
    sys.exit(main())
