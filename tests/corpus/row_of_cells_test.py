# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A plant the detector was not made with: nearly all of its plateaus are found, and only those."""

import json
import os
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

import score

STILLING = os.environ["STILLING"]
PLANT = Path(__file__).with_name("row_of_cells.py")


def make(folder, first, last, *more):
    subprocess.run([sys.executable, "-B", PLANT, folder, str(first), str(last), *more], check=True)


class RowOfCells(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        keep = tempfile.TemporaryDirectory()
        cls.addClassCleanup(keep.cleanup)
        cls.folder = Path(keep.name)
        make(cls.folder / "tests", 1, 20)
        cls.logs = sorted((cls.folder / "tests").glob("*.csv"))

    def marks(self, *words):
        out = self.folder / "".join(("out", *words))
        subprocess.run([STILLING, "settle", "--jsonl", "--out", out, *words, *self.logs],
                       capture_output=True, check=False)
        truths = [score.Truth(p) for p in sorted((self.folder / "tests").glob("*.truth.json"))]
        read = {t.name: score.read_output(out / f"{t.name}.out.jsonl", t.last_s) for t in truths}
        return score.score(truths, read)["all"]

    def test_a_seed_is_a_test(self):
        make(self.folder / "again", 3, 4)
        for name in ("row_of_cells-s3.csv", "row_of_cells-s4.truth.json"):
            self.assertEqual((self.folder / "again" / name).read_bytes(),
                             (self.folder / "tests" / name).read_bytes())

    def test_tests_are_those_of_a_burner(self):
        for log in self.logs:
            known = json.loads(log.with_suffix("").with_suffix(".truth.json").read_text())
            sensed = known["grid"]["sensed"]
            self.assertTrue(250 < max(sensed["stack_temp_degF"]) < 800, log.name)
            self.assertTrue(2 < min(sensed["o2_pct"]) < 10, log.name)

    def test_live(self):
        marks = self.marks()
        self.assertGreater(marks["true_intervals"], 30)
        self.assertGreaterEqual(marks["f1"], 0.93)
        self.assertLessEqual(marks["false_settled"], 0.02)

    def test_in_hindsight(self):
        marks = self.marks("--finished")
        self.assertGreaterEqual(marks["f1"], 0.93)
        self.assertLessEqual(marks["false_settled"], 0.02)
        self.assertLessEqual(marks["delay_s"]["median"], self.marks()["delay_s"]["median"])


if __name__ == "__main__":
    unittest.main()
