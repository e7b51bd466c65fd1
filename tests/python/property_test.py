# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Properties over drawn inputs. Needs hypothesis; EXAMPLES says how many are drawn (20)."""

import os
import sys
import unittest

import numpy as np
import stilling
from support import main, plain_test

try:
    from hypothesis import HealthCheck, given, settings, strategies as st
except ImportError:
    print("skipped: hypothesis is not installed")
    sys.exit(77)

EXAMPLES = int(os.environ.get("EXAMPLES", "20"))
TESTS = [plain_test(scenario, seed) for scenario in ("cold_start", "probe_slips", "first_visit")
         for seed in (1, 2)]
WHOLE = [stilling.settle(**t) for t in TESTS]
which = st.integers(0, len(TESTS) - 1)
drawn = settings(max_examples=EXAMPLES, deadline=None,
                 suppress_health_check=list(HealthCheck))


class Properties(unittest.TestCase):
    @drawn
    @given(which, st.sampled_from(["<f8", ">f8", "<f4", "strided", "backwards", "fortran", "list",
                                   "frozen"]), st.randoms())
    def test_how_numbers_lie_in_memory_changes_nothing(self, i, form, dice):
        name = dice.choice([n for n in TESTS[i] if n != "time_s"])
        x = TESTS[i][name]
        wide = np.zeros((len(x), 2))
        wide[:, 1] = x
        frozen = x.copy()
        frozen.flags.writeable = False
        turned = {"strided": wide[:, 1], "backwards": x[::-1].copy()[::-1],
                  "fortran": np.asfortranarray(wide)[:, 1], "list": x.tolist(), "frozen": frozen}
        changed = turned[form] if form in turned else x.astype(form)
        self.assertEqual(stilling.settle(**{**TESTS[i], name: changed}).plateaus,
                         WHOLE[i].plateaus)

    @drawn
    @given(which, st.permutations(range(8)))
    def test_the_order_of_columns_changes_no_reading(self, i, order):
        names = list(TESTS[i])
        turned = {names[k]: TESTS[i][names[k]] for k in order if k < len(names)}
        turned.update(TESTS[i] if set(turned) != set(TESTS[i]) else {})
        self.assertEqual([p.readings for p in stilling.settle(turned).plateaus],
                         [p.readings for p in WHOLE[i].plateaus])

    @drawn
    @given(which, st.lists(st.integers(1, 400), min_size=1, max_size=20))
    def test_pieces_change_nothing(self, i, sizes):
        live = stilling.Session()
        at, n = 0, len(TESTS[i]["time_s"])
        while at < n:
            size = sizes[at % len(sizes)]
            live.push({k: v[at:at + size] for k, v in TESTS[i].items()})
            at += size
        live.finish()
        self.assertEqual(live.result.jsonl, WHOLE[i].jsonl)

    @drawn
    @given(which, st.integers(-2_000_000_000, 2_000_000_000))
    def test_a_constant_added_to_every_time_shifts_times_alone(self, i, shift):
        later = stilling.settle(time_ns=np.rint(TESTS[i]["time_s"] * 1e9).astype(np.int64)
                                + shift * 1_000_000_000,
                                **{k: v for k, v in TESTS[i].items() if k != "time_s"})
        self.assertEqual([p.readings for p in later.plateaus],
                         [p.readings for p in WHOLE[i].plateaus])
        for p, q in zip(later.plateaus, WHOLE[i].plateaus):
            self.assertAlmostEqual(p.from_s - shift, q.from_s, delta=1e-6)

    @drawn
    @given(which)
    def test_other_units_give_the_same_readings(self, i):
        changed = {k: v for k, v in TESTS[i].items() if k != "co_ppm"}
        changed["co_fraction"] = TESTS[i]["co_ppm"] / 1e6
        for p, q in zip(stilling.settle(changed).plateaus, WHOLE[i].plateaus):
            self.assertAlmostEqual(p.from_s, q.from_s, places=6)
            self.assertAlmostEqual(1e6 * p.readings["co_fraction"].value,
                                   q.readings["co_ppm"].value, delta=0.01)

    @drawn
    @given(which, st.data())
    def test_rows_without_any_value_change_no_mean(self, i, data):
        """A row in which every value is missing says nothing, as long as it makes no gap."""
        t = TESTS[i]["time_s"]
        at = data.draw(st.lists(st.integers(0, len(t) - 2), max_size=30, unique=True))
        between = (t[at] + t[np.array(at, dtype=int) + 1]) / 2 if at else np.array([])
        times = np.concatenate([t, between])
        order = np.argsort(times, kind="stable")
        changed = {k: np.concatenate([v, np.full(len(at), np.nan)])[order]
                   for k, v in TESTS[i].items() if k != "time_s"}
        got = stilling.settle(time_s=times[order], **changed)
        self.assertEqual(len(got.plateaus), len(WHOLE[i].plateaus))
        for p, q in zip(got.plateaus, WHOLE[i].plateaus):
            for k, r in q.readings.items():
                self.assertAlmostEqual(p.readings[k].value, r.value, delta=2 * r.u)


if __name__ == "__main__":
    main()
