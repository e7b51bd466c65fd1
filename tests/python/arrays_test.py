# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What arrays may look like, and what is refused by name."""

import copy
import pickle
import unittest

import numpy as np
import stilling
from support import main, plain_test


class Arrays(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.columns = plain_test()
        cls.whole = stilling.settle(**cls.columns)

    def same(self, **changed):
        self.assertEqual(stilling.settle(**{**self.columns, **changed}).plateaus,
                         self.whole.plateaus)

    def test_layouts_in_memory(self):
        x = self.columns["o2_pct"]
        wide = np.zeros((len(x), 3))
        wide[:, 1] = x
        self.same(o2_pct=wide[:, 1])                    # strided
        self.same(o2_pct=np.asfortranarray(wide)[:, 1])
        self.same(o2_pct=x[::-1].copy()[::-1])          # runs backwards
        self.same(o2_pct=x.astype(">f8"))               # big-endian
        frozen = x.copy()
        frozen.flags.writeable = False
        self.same(o2_pct=frozen)
        self.same(o2_pct=list(x))
        self.same(time_s=self.columns["time_s"].astype(">f8"))

    def test_narrow_numbers_mean_their_shortest_decimal(self):
        self.same(o2_pct=self.columns["o2_pct"].astype(np.float32),
                  stack_temp_degF=self.columns["stack_temp_degF"].astype(np.float32))

    def test_the_order_of_columns_changes_no_reading(self):
        turned = dict(reversed(list(self.columns.items())))
        for a, b in zip(stilling.settle(turned).plateaus, self.whole.plateaus):
            self.assertEqual(a.readings, b.readings)

    def test_missing_is_missing(self):
        x = self.columns["co_ppm"].copy()
        x[5::7] = np.nan
        a = stilling.settle(**{**self.columns, "co_ppm": x}).plateaus
        masked = np.ma.masked_invalid(x)
        none = [None if np.isnan(v) else v for v in x]
        self.assertEqual(stilling.settle(**{**self.columns, "co_ppm": masked}).plateaus, a)
        self.assertEqual(stilling.settle(**{**self.columns, "co_ppm": none}).plateaus, a)
        self.assertLess(a[0].readings["co_ppm"].coverage, 0.9)

    def test_times(self):
        t = self.columns["time_s"]
        rest = {k: v for k, v in self.columns.items() if k != "time_s"}

        def plateaus(**time):
            return stilling.settle(**time, **rest).plateaus

        ns = np.rint(t * 1e9).astype(np.int64)
        self.assertEqual(plateaus(time_ns=ns), self.whole.plateaus)
        self.assertEqual(plateaus(time_ms=np.rint(t * 1000)), self.whole.plateaus)
        stamps = ns.astype("datetime64[ns]")
        self.assertEqual(plateaus(time=stamps), self.whole.plateaus)
        later = plateaus(time=stamps + np.timedelta64(1_700_000_000, "s"))
        self.assertEqual([p.readings for p in later], [p.readings for p in self.whole.plateaus])
        self.assertEqual([round(p.from_s - 1_700_000_000, 6) for p in later],
                         [round(p.from_s, 6) for p in self.whole.plateaus])

    def test_a_narrow_time_that_lost_its_seconds_is_refused(self):
        t = (self.columns["time_s"] + 1_700_000_000).astype(np.float32)
        with self.assertRaisesRegex(ValueError, "float32 holds times this large only to 128.*"
                                                "fall together"):
            stilling.settle(**{**self.columns, "time_s": t})
        self.same(time_s=np.rint(self.columns["time_s"]).astype(np.float32)
                  if (self.columns["time_s"] % 1 == 0).all() else self.columns["time_s"])

    def test_what_is_refused_says_what_would_help(self):
        for changed, words in (
                ({"o2_pct": np.array(["a"] * 3)}, "o2_pct: .*no number"),
                ({"o2_pct": np.zeros(3)}, r"o2_pct: \(3,\) values for"),
                ({"soot_pct": self.columns["o2_pct"]}, "--soot-pct"),
                ({"time_s": np.where(self.columns["time_s"] == 5, np.nan,
                                     self.columns["time_s"])}, "time_s: row . has no time"),
                ({"time_ms": self.columns["time_s"]}, "there are 2"),
                ({"criterion": "nonsense"}, "nonsense"),
                ({"require": ["soot"]}, "soot")):
            with self.assertRaisesRegex(ValueError, words, msg=str(changed)[:60]):
                stilling.settle(**{**self.columns, **changed})
        with self.assertRaisesRegex(ValueError, "there are 0"):
            stilling.settle(o2_pct=[1.0])
        with self.assertRaisesRegex(ValueError, "is no <channel>_<unit>"):
            stilling.settle({"time_s": [0.0], "o2_pct": [5.0], "soot": [1.0]})

    def test_nothing_is_nothing(self):
        result = stilling.settle(time_s=[], stack_temp_degF=[])
        self.assertEqual((result.outcome, result.plateaus), ("no_data", []))

    def test_results_can_be_kept_and_copied(self):
        for again in (pickle.loads(pickle.dumps(self.whole)), copy.deepcopy(self.whole)):
            self.assertEqual(again, self.whole)
            self.assertEqual(repr(again), repr(self.whole))

    def test_records_are_flat(self):
        rows = self.whole.records()
        self.assertEqual(len(rows), len(self.whole.plateaus))
        self.assertEqual(rows[0]["o2_pct"], self.whole.plateaus[0].readings["o2_pct"].value)
        self.assertIn("efficiency_gross_pct_u", rows[0])


class Frames(unittest.TestCase):
    def setUp(self):
        self.columns = plain_test()
        self.whole = stilling.settle(**self.columns).plateaus

    def test_pandas(self):
        try:
            import pandas
        except ImportError:
            self.skipTest("pandas is not installed")
        frame = pandas.DataFrame(self.columns)
        self.assertEqual(stilling.settle(frame).plateaus, self.whole)
        frame["time"] = pandas.to_datetime(frame.pop("time_s"), unit="s", utc=True)
        self.assertEqual([p.readings for p in stilling.settle(frame).plateaus],
                         [p.readings for p in self.whole])
        self.assertEqual(len(stilling.settle(frame).to_pandas()), len(self.whole))

    def test_arrow(self):
        try:
            import pyarrow
        except ImportError:
            self.skipTest("pyarrow is not installed")
        table = pyarrow.table(self.columns)
        self.assertEqual(stilling.settle(table).plateaus, self.whole)
        self.assertEqual(stilling.settle(table).to_arrow().num_rows, len(self.whole))

    def test_polars(self):
        try:
            import polars
        except ImportError:
            self.skipTest("polars is not installed")
        self.assertEqual(stilling.settle(polars.DataFrame(self.columns)).plateaus, self.whole)


if __name__ == "__main__":
    main()
