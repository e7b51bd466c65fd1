# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Figures, tables of constants, plain series."""

import json
import math
import unittest

import numpy as np
import stilling
from support import command, main


class Figures(unittest.TestCase):
    def test_as_the_command_has_them(self):
        y = stilling.derive(fuel="no2_oil", o2=5.0, stack="480degF", air="70degF", co=20)
        said = command("derive", "--json", "--fuel", "no2_oil", "--o2", 5.0, "--stack", "480degF",
                       "--air", "70degF", "--co", 20)
        self.assertEqual(y.event, json.loads(said))
        # Excess air by the short formula O2 / (20.9 - O2), 40 CFR 60 App. A-3, Method 3B.
        self.assertAlmostEqual(y["excess_air_pct"].value, 100 * 5 / 15.9, delta=0.001)
        self.assertEqual(y.objection, "")

    def test_what_cannot_be_right_is_said(self):
        self.assertIn("O2", stilling.derive(fuel="no2_oil", o2=25.0, stack="480degF").objection)
        with self.assertRaisesRegex(ValueError, "which fuel"):
            stilling.derive(o2=5.0)

    def test_constants_have_sources(self):
        self.assertIn("no2_oil", [f["name"] for f in stilling.fuels()])
        for row in stilling.fuels():
            self.assertTrue(row["composition_source"], row)
        for row in stilling.criteria():
            self.assertTrue(row["source"] and row["leaves_out"], row)


class Series(unittest.TestCase):
    def setUp(self):
        dice = np.random.default_rng(7)
        self.t = np.arange(0, 1200.0)
        self.level = 20 * np.exp(-self.t / 100)
        self.x = 100 - self.level + dice.normal(0, 0.1, len(self.t))

    def test_an_approach_settles_once(self):
        (span,) = stilling.steady_spans(self.t, self.x, rate_limit=1 / 60)
        # The rate is 20/100 exp(-t/100) per s; it meets 1/60 at 100 ln 12 = 248 s.
        moment = 100 * math.log(12)
        self.assertGreater(span.declared_s, moment - 10)
        self.assertLess(span.declared_s, moment + 60)
        self.assertEqual(span.to_s, self.t[-1])
        self.assertLess(abs(span.rate), 1 / 60)

    def test_units_and_pace_are_the_callers(self):
        a = stilling.steady_spans(self.t, self.x, rate_limit=1 / 60)
        b = stilling.steady_spans(self.t, 1e6 * self.x - 5e8, rate_limit=1e6 / 60)
        c = stilling.steady_spans(self.t / 1000, self.x, rate_limit=1000 / 60, window_s=0.06)
        for other, scale, shift, pace in ((b, 1e6, -5e8, 1), (c, 1, 0, 1e-3)):
            self.assertEqual(len(other), len(a))
            for p, q in zip(a, other):
                self.assertAlmostEqual(q.declared_s, pace * p.declared_s, places=6)
                self.assertAlmostEqual(q.value, scale * p.value + shift, delta=1e-6 * scale)
                self.assertAlmostEqual(q.u / scale, p.u, delta=1e-6)

    def test_what_never_rests_is_never_steady(self):
        self.assertEqual(stilling.steady_spans(self.t, 0.05 * self.t, rate_limit=1 / 60), [])

    def test_segments(self):
        parts = stilling.segment(self.t, self.x, rate_limit=1 / 60)
        self.assertEqual(parts[-1].kind, "plateau")
        self.assertAlmostEqual(parts[-1].value, 100, delta=1)
        self.assertEqual((parts[0].from_s, parts[-1].to_s), (0, self.t[-1]))

    def test_what_is_refused(self):
        for call in (lambda: stilling.steady_spans(self.t, self.x[:-1], rate_limit=1),
                     lambda: stilling.steady_spans(self.t, self.x, rate_limit=0),
                     lambda: stilling.steady_spans(self.t, np.array(["a"]), rate_limit=1),
                     lambda: stilling.segment(self.t, self.x.reshape(2, -1), rate_limit=1)):
            self.assertRaises(ValueError, call)
        self.assertEqual(stilling.steady_spans([], [], rate_limit=1), [])


if __name__ == "__main__":
    main()
