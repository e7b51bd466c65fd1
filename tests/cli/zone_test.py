# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Local times in a zone whose clocks are set twice a year (IANA time zone database)."""

import csv
import io
from pathlib import Path

from command import CommandTest, main, of_kind, run

CASE = Path(__file__).parent.parent / "cases" / "037-dst-fold.csv"
NEW_YORK = ["--time-zone", "America/New_York"]


def frames(*words, log):
    out = run("look", "frames", *words, log=log).stdout.decode()
    return list(csv.DictReader(io.StringIO(out)))


def log_of(*stamps):
    return "time,stack_temp_degF,o2_pct,co_ppm\n" + "".join(
        f"{s},{400 + i},5,20\n" for i, s in enumerate(stamps))


class Zone(CommandTest):
    def times(self, *stamps, zone="America/New_York"):
        return [int(f["time_s"]) for f in frames("--time-zone", zone, log=log_of(*stamps))]

    def test_the_hour_that_comes_twice(self):
        rows = frames(*NEW_YORK, log=CASE.read_bytes())
        times = [int(r["time_s"]) for r in rows]
        self.assertEqual(len(rows), 24)
        self.assertEqual({b - a for a, b in zip(times, times[1:])}, {30})
        # 01:54:00 EDT, four hours behind UTC.
        self.assertEqual(times[0], 1793512440)
        temps = [float(r["stack_temp_degF"]) for r in rows]
        slope = (temps[-1] - temps[0]) / (times[-1] - times[0]) * 60
        self.assertAlmostEqual(slope, 1.0, places=9)  # degF/min
        out = run("settle", "--jsonl", *NEW_YORK, log=CASE.read_bytes()).stdout
        self.assertEqual(of_kind(out, "break"), [])
        said = of_kind(out, "end")[0]["assumptions"]
        self.assertTrue(any(a.startswith("fold: ") for a in said))
        self.assertTrue(any(a.startswith("time_zone: ") and "America/New_York" in a for a in said))
        self.assertFalse(any(a.startswith("utc: ") for a in said))

    def test_without_the_zone_it_is_a_step_back(self):
        out = run("settle", "--jsonl", log=CASE.read_bytes()).stdout
        back = of_kind(out, "break")
        self.assertEqual([(b["kind"], b["line"]) for b in back], [("clock_back", 14)])
        times = [int(f["time_s"]) for f in frames(log=CASE.read_bytes())]
        self.assertEqual(times[12] - times[11], -3570)
        self.assertEqual(back[0]["time_s"], times[12])
        self.assertTrue(any(a.startswith("utc: ") for a in of_kind(out, "end")[0]["assumptions"]))

    def test_the_hour_that_is_skipped(self):
        stamps = ["2026-03-08 01:59:00", "2026-03-08 01:59:30", "2026-03-08 03:00:00",
                  "2026-03-08 03:00:30"]
        times = self.times(*stamps)
        self.assertEqual([b - a for a, b in zip(times, times[1:])], [30, 30, 30])
        out = run("settle", "--jsonl", *NEW_YORK, log=log_of(*stamps)).stdout
        self.assertEqual(of_kind(out, "break"), [])
        out = run("settle", "--jsonl", log=log_of(*stamps)).stdout
        self.assertEqual([b["kind"] for b in of_kind(out, "break")], ["clock_jump"])

    def test_a_clock_that_was_not_set_runs_on_through_the_skipped_hour(self):
        times = self.times("2026-03-08 01:59:30", "2026-03-08 02:00:00", "2026-03-08 02:00:30")
        self.assertEqual([b - a for a, b in zip(times, times[1:])], [30, 30])

    def test_other_zones(self):
        # 14:00 on 1 July 2026: +05:45 in Kathmandu, +02:00 in Berlin, UTC in UTC.
        noon = 1782914400  # 2026-07-01T14:00:00Z
        for zone, offset in (("Asia/Kathmandu", 20700), ("Europe/Berlin", 7200), ("UTC", 0)):
            with self.subTest(zone=zone):
                self.assertEqual(self.times("2026-07-01 14:00:00", zone=zone), [noon - offset])

    def test_an_offset_in_the_log_comes_first(self):
        self.assertEqual(self.times("2026-07-01T14:00:00Z", "2026-07-01T16:00:01+02:00"),
                         [1782914400, 1782914401])

    def test_a_log_without_dates_is_none_of_its_business(self):
        log = "time_s,stack_temp_degF\n0,400\n1,400\n"
        said = of_kind(run("settle", "--jsonl", *NEW_YORK, log=log).stdout, "end")[0]
        self.assertFalse(any(a.startswith("time_zone: ") for a in said["assumptions"]))

    def test_names_that_are_none_are_refused_with_those_that_are_near(self):
        for typed, near in (("America/Newyork", "America/New_York"), ("new york", "New_York"),
                            ("Berlin", "Europe/Berlin"), ("Europe/Berln", "Europe/Berlin"),
                            ("Mars/Olympus", "such as"), ("", "such as"),
                            ("../../etc/passwd", "such as")):
            with self.subTest(typed=typed):
                done = run("settle", "--time-zone", typed, log=log_of("2026-07-01 14:00:00"))
                self.assert_status(done, 2)
                self.assertIn(near, done.stderr.decode())
                self.assertIn(f"'{typed}' is no time zone", done.stderr.decode())


if __name__ == "__main__":
    main()
