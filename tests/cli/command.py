# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The stilling command as a process, and logs to give it: what the scripts here share."""

import functools
import json
import os
import subprocess
import tempfile
import unittest
from pathlib import Path

STILLING = os.environ["STILLING"]
HEADER = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm"
ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "NO_COLOR"}


def run(*words, log=None, **more):
    """A finished process; `log` is what comes on its standard input."""
    if isinstance(log, str):
        log = log.encode()
    source = {"input": log} if log is not None else {"stdin": subprocess.DEVNULL}
    return subprocess.run([STILLING, *map(str, words)], capture_output=True, timeout=120,
                          env=ENVIRONMENT, **source, **more)


def start(*words, **more):
    """A process with a pipe at each of its ends."""
    return subprocess.Popen([STILLING, *map(str, words)], stdin=subprocess.PIPE,
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=ENVIRONMENT,
                            **more)


def events(out):
    return [json.loads(line) for line in out.decode().splitlines()]


def of_kind(out, kind):
    return [e for e in events(out) if e["event"] == kind]


@functools.cache
def simulated(scenario="first_visit", seed=7):
    """An invented test, as bytes."""
    return run("simulate", scenario, "--seed", seed).stdout


def steady_log(seconds=300, start_s=0, header=HEADER, rows="{t},{stack},68,5.{o2},20"):
    """A flue that holds still but for a display that dithers."""
    lines = [header] if header else []
    for t in range(seconds):
        lines.append(rows.format(t=t + start_s, stack=450 + (t * 7 // 3) % 2, o2=t % 2))
    return "\n".join(lines) + "\n"


class CommandTest(unittest.TestCase):
    """Each test in an empty folder of its own."""

    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.folder = Path(folder.name)

    def file(self, name, content):
        path = self.folder / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def assert_status(self, done, status):
        self.assertEqual(done.returncode, status, done.stderr.decode(errors="replace"))


main = unittest.main
