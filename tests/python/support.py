# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What the tests of the package share. STILLING names the command, PYTHONPATH the package."""

import os
import pathlib
import subprocess
import unittest

import numpy as np

import stilling

COMMAND = os.environ["STILLING"]
TESTS = pathlib.Path(__file__).resolve().parent.parent


def command(*words, log=None):
    """What the command says to these words, as text."""
    done = subprocess.run([COMMAND, *map(str, words)], input=log, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, timeout=120, check=False)
    return done.stdout.decode()


def columns_of(log):
    """Columns of an invented log, as arrays; notes are left out."""
    lines = [line for line in log.decode().splitlines() if line and not line.startswith("#")]
    names = lines[0].split(",")
    cells = [line.split(",") for line in lines[1:]]
    return {n: np.array([float(row[i]) if row[i] else np.nan for row in cells])
            for i, n in enumerate(names)}


def as_text(columns):
    """The same as a log, each number as its shortest decimal."""
    names = list(columns)

    def cell(x):
        return "" if np.isnan(x) else np.format_float_positional(x, trim="-")

    rows = [",".join(names)]
    rows += [",".join(cell(x) for x in row) for row in zip(*columns.values())]
    return "\n".join(rows) + "\n"


def plain_test(scenario="first_visit", seed=7):
    return columns_of(stilling.simulate(scenario, seed=seed)[0])


main = unittest.main
