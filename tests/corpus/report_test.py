# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The report tells good from bad: a command that always claims misses every aim it can miss."""

import math
import os
import random
import stat
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

import report
import score

ALWAYS = """#!{python}
import json, sys
from pathlib import Path
words = sys.argv[1:]
out = Path(words[words.index("--out") + 1])
for log in words:
    if log.endswith(".csv"):
        reading = {{"value": 400, "u": 0.01}}
        rows = [x.split(",")[0] for x in open(log) if x[0].isdigit()]
        line = {{"event": "plateau", "declared_s": float(rows[0]), "from_s": float(rows[0]),
                 "to_s": None, "readings": {{"stack_temp_degF": reading}}}}
        (out / (Path(log).stem + ".out.jsonl")).write_text(json.dumps(line) + "\\n")
"""


class Report(unittest.TestCase):
    def setUp(self):
        keep = tempfile.TemporaryDirectory()
        self.addCleanup(keep.cleanup)
        self.folder = Path(keep.name)

    def result_of(self, command):
        def make(folder, first, last):
            for scenario in ("first_visit", "never_lit", "gusty_day"):
                subprocess.run([os.environ["MAKE_CORPUS"], folder, str(first), str(last), "--only",
                                scenario], check=True)
        return report.evaluate(make, 1, 3, command, 1)

    def missed(self, result):
        figures = report.figures(result)
        targets = report.aims(figures["F1"][0])
        return {name for name, aim in targets[0].items()
                if report.missed(figures.get(name, (None, ""))[0], aim)}, figures, targets

    def test_who_always_claims_is_found_out(self):
        always = self.folder / "always"
        always.write_text(ALWAYS.format(python=sys.executable))
        always.chmod(always.stat().st_mode | stat.S_IXUSR)
        missed, figures, targets = self.missed(self.result_of(always))
        self.assertLessEqual({"F1", "falsely settled", "falsely settled, live", "stack: coverage",
                              "plateaus in these", "worst scenario: F1"}, missed)
        self.assertLess(figures["F1"][0], 0.3)
        self.assertEqual(figures["plateaus in these"][0], figures["tests where nothing is ever "
                                                                  "steady"][0])
        shown = "\n".join(report.table({"as drawn": figures}, targets))
        self.assertRegex(shown, r"F1 +>= 0.97 +0\.\d+ !")

    def test_the_command_is_not(self):
        missed, figures, _ = self.missed(self.result_of(os.environ["STILLING"]))
        self.assertEqual(figures["tests"][0], 9)
        self.assertNotIn("plateaus in these", missed)
        self.assertGreater(figures["F1"][0], 0.6)

    def test_the_second_plant_has_three_points(self):
        aim = report.aims(0.98)[2]["F1"]
        self.assertFalse(report.missed(0.951, aim))
        self.assertTrue(report.missed(0.949, aim))

    def test_scatter_is_about_a_line_and_forgets_the_largest_hundredth(self):
        draw = random.Random(1)
        times = list(range(400))
        values = [500 + 0.1 * t + draw.gauss(0, 2) for t in times]
        self.assertAlmostEqual(report.scatter(times, values), 2, delta=0.2)
        values[200] += 300
        self.assertAlmostEqual(report.scatter(times, values), 2, delta=0.6)

    def test_noise_dithers_a_display_or_does_not(self):
        draw = random.Random(2)
        plateau = score.Plateau(0, 299, 0, 299, {})
        for sigma, expected in ((0.1, False), (1.0, True)):
            rows = [(t, {"stack_temp_degF": round(500.3 + draw.gauss(0, sigma))})
                    for t in range(300)]
            rows.append((300, {"stack_temp_degF": 501}))
            rows.append((301, {"stack_temp_degF": 500}))
            self.assertEqual(report.dithered(rows, plateau, "stack_temp_degF"), expected)

    def test_the_interval_holds_the_figure_and_narrows_with_tests(self):
        few = [(1, 1, 1, 1), (0, 1, 1, 1), (1, 1, 0, 1), (1, 2, 1, 1), (1, 1, 1, 1)]
        low, high = report.f1_interval(few)
        self.assertTrue(low <= report.f1_of(few) <= high)
        narrow = report.f1_interval(few * 40)
        self.assertLess(narrow[1] - narrow[0], high - low)
        self.assertTrue(math.isclose(report.f1_of(few * 40), report.f1_of(few)))

    def test_rows_without_numbers_cost_only_themselves(self):
        log = self.folder / "a.csv"
        log.write_text("time_s,stack_temp_degF,o2_pct\n# probe in\n0,500,\nsoon,1,1\n1,---,5.1\n")
        self.assertEqual(report.rows_of(log), [(0.0, {"stack_temp_degF": 500.0}),
                                               (1.0, {"o2_pct": 5.1})])


if __name__ == "__main__":
    unittest.main()
