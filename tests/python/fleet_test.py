# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""From Arrow batches to Arrow batches. Needs pyarrow."""

import sys
import unittest

import stilling
from support import main

try:
    import pyarrow as pa
    from stilling import fleet
except ImportError:
    print("skipped: pyarrow is not installed")
    sys.exit(77)


class Fleet(unittest.TestCase):
    def setUp(self):
        logs = [(str(seed), stilling.simulate("cold_start", seed=seed)[0]) for seed in range(10)]
        logs[3] = ("3", b"no log at all\n")
        logs[5] = ("5", b"time_s,stack_temp_degF\n")
        self.logs = dict(logs)
        self.table = pa.table({"name": [n for n, _ in logs], "log": [x for _, x in logs]},
                              schema=fleet.INPUT)

    def test_each_log_as_by_itself(self):
        out = fleet.judge_table(self.table).to_pylist()
        for name, log in self.logs.items():
            rows = [r for r in out if r["name"] == name]
            if name == "3":
                self.assertEqual(len(rows), 1)
                self.assertIn("no_layout", rows[0]["fault"])
            elif name == "5":
                self.assertEqual([(r["outcome"], r["plateau"]) for r in rows], [("no_data", None)])
            else:
                result = stilling.settle(log)
                self.assertEqual({(r["plateau"], r["quantity"]): r["value"] for r in rows
                                  if r["plateau"] is not None},
                                 {(i, k): v.value for i, p in enumerate(result.plateaus)
                                  for k, v in {**p.readings, **p.derived}.items()})

    def test_how_the_rows_are_batched_changes_nothing(self):
        whole = fleet.judge_table(self.table)
        for size in (1, 3):
            batches = list(fleet.judge(self.table.to_batches(max_chunksize=size)))
            self.assertEqual(pa.Table.from_batches(batches).to_pylist(), whole.to_pylist())

    def test_options_go_along(self):
        strict = fleet.judge_table(self.table, criterion="strict").to_pylist()
        self.assertNotEqual(strict, fleet.judge_table(self.table).to_pylist())


if __name__ == "__main__":
    main()
