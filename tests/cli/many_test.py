# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Many logs in one go."""

import csv
import io

from command import HEADER, CommandTest, events, main, run, simulated, steady_log


class Many(CommandTest):
    def setUp(self):
        super().setUp()
        self.logs = [self.file(f"log{i}.csv", simulated("cold_start", i)) for i in range(1, 6)]

    def test_results_come_in_the_order_of_the_logs_whatever_the_jobs(self):
        for form in ("--jsonl", "--csv", None):
            words = [form] if form else []
            one = run("settle", *words, *self.logs)
            self.assert_status(one, 0)
            for jobs in (2, 4, 9):
                many = run("settle", *words, "--jobs", jobs, *self.logs)
                self.assertEqual(many.stdout, one.stdout)
        begun = [e["file"] for e in events(run("settle", "--jsonl", *self.logs).stdout)
                 if e["event"] == "begin"]
        self.assertEqual(begun, [str(p) for p in self.logs])

    def test_out_writes_a_file_for_each(self):
        folder = self.folder / "new" / "results"
        done = run("settle", "--out", folder, "--jobs", 2, *self.logs)
        self.assert_status(done, 0)
        self.assertEqual(done.stdout, b"")
        self.assertEqual(sorted(p.name for p in folder.iterdir()),
                         [f"log{i}.out.jsonl" for i in range(1, 6)])
        said = b"".join((folder / f"log{i}.out.jsonl").read_bytes() for i in range(1, 6))
        self.assertEqual(said, run("settle", "--jsonl", *self.logs).stdout)
        self.assert_status(run("settle", "--csv", "--out", folder, *self.logs), 0)
        self.assertTrue((folder / "log1.out.csv").read_text().startswith("file,declared_s"))

    def test_one_bad_log_does_not_stop_the_others(self):
        bad = self.file("bad.csv", "no,log\nat,all\n")
        done = run("settle", "--jsonl", "--jobs", 2, self.logs[0], self.folder / "none.csv", bad,
                   self.logs[1])
        self.assert_status(done, 2)
        self.assertIn(b"none.csv", done.stderr)
        self.assertIn(b"bad.csv", done.stderr)
        ends = [e for e in events(done.stdout) if e["event"] == "end"]
        self.assertEqual([e["outcome"] for e in ends], ["settled", "no_data", "settled"])

    def test_two_logs_of_one_name_are_refused_before_anything_is_written(self):
        (self.folder / "more").mkdir()
        twin = self.folder / "more" / "log1.csv"
        twin.write_bytes(simulated())
        done = run("settle", "--out", self.folder / "results", self.logs[0], twin)
        self.assert_status(done, 2)
        self.assertIn(b"log1.csv", done.stderr)
        self.assertFalse((self.folder / "results").exists())

    def test_a_folder_that_cannot_be_made_is_2(self):
        self.assert_status(run("settle", "--out", self.logs[0] / "x", self.logs[1]), 2)

    def test_status_is_1_where_none_settled(self):
        path = self.file("short.csv", HEADER + "\n0,450,68,5,20\n")
        self.assert_status(run("settle", path, path), 1)
        self.assert_status(run("settle", path, self.logs[0]), 0)

    def test_csv_of_many_logs_is_one_table_in_the_units_of_the_first(self):
        metric = self.file("metric.csv", steady_log(
            header="time_s,stack_temp_degC,o2_fraction,co_ppm", rows="{t},232.{o2},0.05{o2},20"))
        done = run("settle", "--csv", "--jobs", 2, self.logs[0], metric)
        rows = list(csv.DictReader(io.StringIO(done.stdout.decode())))
        self.assertEqual({r["file"] for r in rows}, {str(self.logs[0]), str(metric)})
        self.assertAlmostEqual(float(rows[-1]["stack_temp_degF"]), 232.05 * 1.8 + 32, delta=0.1)
        self.assertAlmostEqual(float(rows[-1]["o2_pct"]), 5.05, delta=0.01)
        self.assertEqual(rows[-1]["draft_breech_inH2O"], "")

    def test_each_log_is_named_in_plain_words(self):
        out = run("settle", *self.logs[:2]).stdout.decode()
        self.assertLess(out.index("log1.csv"), out.index("log2.csv"))
        self.assertEqual(out.count("CO poisons"), 1)


if __name__ == "__main__":
    main()
