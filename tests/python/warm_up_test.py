# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""`steady_spans` on warm-ups nobody made for us: 150 labelled series of timings of programs, see
tests/data/warm_up. The limit was fixed beforehand: 5 % of the level (the median of the first
minute, a value a second) per window of a minute.

Run by itself it prints the table: for each rule how far the moment it takes as settled lies from
the label, and how often the reading it gives is off by more than 5 % from the median of what
follows the label. A rule that another beats in both is not worth having; ours must not be one.
"""

import csv
import gzip
import unittest

import numpy as np
import stilling
from support import TESTS, main

FOLDER = TESTS / "data" / "warm_up"
MINUTE = 60


def labelled():
    """(series, label) pairs; label -1: never steady."""
    columns = {}
    for path in sorted(FOLDER.glob("series_*.csv.gz")):
        with gzip.open(path, "rt") as file:
            rows = list(csv.reader(file))
        for i, name in enumerate(rows[0]):
            columns[name] = np.array([float(r[i]) for r in rows[1:] if i < len(r) and r[i]])
    with gzip.open(FOLDER / "labels.csv.gz", "rt") as file:
        labels = [(row[0], int(row[-1])) for row in list(csv.reader(file))[1:]]
    return [(columns[name], label) for name, label in labels]


def ours(x):
    spans = stilling.steady_spans(np.arange(len(x)), x,
                                  rate_limit=0.05 * np.median(x[:MINUTE]) / MINUTE)
    if not spans:
        return None
    longest = max(spans, key=lambda s: s.to_s - s.from_s)
    return longest.from_s, longest.value


def ours_in_hindsight(x):
    parts = stilling.segment(np.arange(len(x)), x,
                             rate_limit=0.05 * np.median(x[:MINUTE]) / MINUTE)
    if not parts or parts[-1].kind != "plateau":
        return None
    return parts[-1].settled_from_s, parts[-1].value


def constant(seconds):
    return lambda x: (seconds, x[seconds:].mean())


def slope_rule(window):
    """Least squares over a trailing window, first within the limit; the mean of what follows."""
    def rule(x):
        limit = 0.05 * np.median(x[:MINUTE]) / MINUTE
        t = np.arange(window) - (window - 1) / 2
        slopes = np.convolve(x, t[::-1], "valid") / (t @ t)
        within = np.abs(slopes) <= limit
        if not within.any():
            return None
        at = int(np.argmax(within)) + window - 1
        return at, x[at:].mean()
    return rule


def range_rule(window):
    """Highest less lowest of a trailing window within 5 %; the mean of what follows."""
    def rule(x):
        views = np.lib.stride_tricks.sliding_window_view(x, window)
        within = np.ptp(views, axis=1) <= 0.05 * np.median(x[:MINUTE])
        if not within.any():
            return None
        at = int(np.argmax(within)) + window - 1
        return at, x[at:].mean()
    return rule


def mser5(x):
    """MSER-5 (White 1997): the cut that minimises the standard error of what is left, of means of
    five, in the first half."""
    means = x[:len(x) // 5 * 5].reshape(-1, 5).mean(axis=1)
    n = len(means)
    back = np.cumsum(means[::-1])[::-1]
    squares = np.cumsum(means[::-1] ** 2)[::-1]
    left = n - np.arange(n)
    errors = (squares - back ** 2 / left) / left.astype(float) ** 2
    cut = int(np.argmin(errors[:n // 2]))
    return 5 * cut, x[5 * cut:].mean()


RULES = {"stilling, live": ours, "stilling, segments": ours_in_hindsight,
         "at once": constant(0), "after 1 min": constant(60), "after 5 min": constant(300),
         "after 15 min": constant(900), "line over 1 min": slope_rule(60),
         "line over 3 min": slope_rule(180), "range over 1 min": range_rule(60),
         "range over 3 min": range_rule(180), "MSER-5": mser5}


def scores(series):
    table = {}
    for name, rule in RULES.items():
        errors, off, said = [], [], 0
        for x, label in series:
            answer = rule(x)
            if answer is None or label < 0:
                continue
            said += 1
            errors.append(abs(answer[0] - label))
            truth = np.median(x[label:])
            off.append(abs(answer[1] - truth) > 0.05 * truth)
        table[name] = (said, np.median(errors) if errors else np.nan,
                       100 * np.mean(off) if off else np.nan)
    return table


class WarmUps(unittest.TestCase):
    def test_ours_is_on_the_frontier(self):
        series = labelled()
        self.assertEqual(len(series), 150)
        table = scores(series)
        print(f"\n{'rule':<22}{'said':>6}{'moment off, s (median)':>25}{'reading off > 5 %':>20}")
        for name, (said, error, off) in table.items():
            print(f"{name:<22}{said:>6}{error:>25.0f}{off:>18.1f} %")
        for mine in ("stilling, live", "stilling, segments"):
            _, error, off = table[mine]
            for name, (_, theirs, their_off) in table.items():
                if not name.startswith("stilling"):
                    self.assertFalse(theirs < error and their_off < off, f"{name} beats {mine}")


if __name__ == "__main__":
    main()
