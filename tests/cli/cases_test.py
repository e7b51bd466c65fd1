# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The logs of tests/cases through the command: what a right reading of each comes to. Of those from
026 on the same numbers are asked of the decoder alone in tests/unit/stages/decoder_cases_test.cpp.
"""

import csv
from pathlib import Path

from command import HEADER, CommandTest, main, of_kind, run

CASES = Path(__file__).parent.parent / "cases"
FIELDS = ["--fields", HEADER + ",draft_breech_inH2O,draft_overfire_inH2O"]

# file, words, rows, frames, rejected, breaks
TABLE = [
    ("026-joined-mid-stream.txt", FIELDS, 14, 12, {"incomplete": 2}, []),
    ("027-reboot-garbage.bin", [], 23, 20, None, ["clock_back"]),
    ("028a-cr-only.bin", [], 12, 12, {}, []),
    ("028b-newline-before-record.bin", [], 12, 12, {}, []),
    ("029-nul-padding.bin", [], 20, 20, {}, []),
    ("030-european.csv", [], 10, 10, {}, []),
    ("032-markers.csv", [], 15, 15, {}, []),
    ("034a-utf8-bom.csv", [], 8, 8, {}, []),
    ("034b-utf16le.csv", [], 8, 8, {}, []),
    ("034c-latin1-degree.csv", [], 8, 8, {}, []),
    ("035-twelve-hour-clock.csv", [], 12, 12, {}, []),
    ("036-no-year.csv", [], 6, 6, {}, []),
    ("037-dst-fold.csv", [], 24, 24, {}, ["clock_back"]),
    ("037-dst-fold.csv", ["--time-zone", "America/New_York"], 24, 24, {}, []),
    ("038-clock-reset.csv", [], 18, 18, {}, ["clock_jump"]),
    ("040-minute-stamps.csv", [], 180, 180, {}, []),
    ("042-unit-switch.csv", [], None, None, {}, ["new_units"]),
    ("043a-change-only.csv", [], 27, 27, {}, []),
    ("043a-change-only.csv", ["--change-only"], 27, 27, {}, []),
    ("043b-rate-change.csv", [], None, None, {}, []),
    ("044-messy-cells.csv", [], 10, 10, {}, []),
    ("045a-empty.csv", [], 0, 0, {}, []),
    ("045b-header-only.csv", [], 0, 0, {}, []),
    ("045c-one-row.csv", [], 1, 1, {}, []),
    ("049-host-settings.csv", [], 61, 61, {}, []),
    ("052-zero-capacity.csv", [], 10, 10, {}, []),
]


def mean(values):
    return sum(values) / len(values)


class Cases(CommandTest):
    def column(self, name, key, *words):
        out = run("look", "frames", *words, CASES / name).stdout.decode().splitlines()
        return [float(r[key]) for r in csv.DictReader(out) if r[key] not in ("", key)]

    def test_rows_and_breaks(self):
        for name, words, rows, frames, rejected, breaks in TABLE:
            with self.subTest(name, words=words):
                done = run("settle", "--jsonl", *words, CASES / name)
                self.assertIn(done.returncode, (0, 1), done.stderr.decode())
                end = of_kind(done.stdout, "end")[0]
                if rows is not None:
                    self.assertEqual((end["rows"], end["frames"]), (rows, frames))
                if rejected is not None:
                    self.assertEqual(end["rejected"], rejected)
                kinds = [e["kind"] for e in of_kind(done.stdout, "break")]
                self.assertEqual(kinds, breaks)
                if not frames and frames is not None:
                    self.assertEqual(end["outcome"], "no_data")

    def test_003_each_burn_has_its_peak_and_its_last_row(self):
        done = run("settle", "--jsonl", CASES / "003-short-cycling.csv")
        self.assertEqual(done.returncode, 1)
        end = of_kind(done.stdout, "end")[0]
        self.assertEqual(end["outcome"], "cycling")
        self.assertEqual([b["to_s"] - b["from_s"] for b in end["burns"]], [180] * 5)
        for which, temps in (("peak", [333.1, 352.2, 354.5, 354.8, 354.8]),
                             ("last", [321.7, 339.9, 342.1, 342.4, 342.4])):
            self.assertEqual([b[which]["stack_temp_degF"] for b in end["burns"]], temps)
        self.assertEqual(end["burns"][0]["last"]["o2_pct"], 4.8)
        words = run("settle", CASES / "003-short-cycling.csv").stdout.decode()
        self.assertIn("Peak of stack temperature: 333.1 to 354.8 °F.\n", words)
        self.assertIn("At the end of a burn, stack temperature: 321.7 to 342.4 °F.\n", words)

    def test_005_a_creep_is_found_once_and_while_it_lasts(self):
        done = run("settle", "--jsonl", CASES / "005-steady-creep.csv")
        (creep,) = [e for e in of_kind(done.stdout, "finding") if e["finding"] == "creeping"]
        self.assertEqual(creep["severity"], "note")
        self.assertEqual(creep["quantity"], "stack_temp_degF_per_min")
        self.assertAlmostEqual(creep["value"], 2, delta=0.5)
        self.assertEqual(creep["limit"], 3)
        self.assertLess(creep["time_s"], 600)

    def test_016_zeroed_in_dirty_air(self):
        """12 ppm where it was zeroed: -12.2 in clean air; 38 in the flue is likely 50."""
        case = CASES / "016-zeroed-in-dirty-air.csv"
        out = run("settle", "--jsonl", case).stdout
        in_air, likely = [e for e in of_kind(out, "finding")
                          if e["finding"] == "zeroed_in_dirty_air"]
        self.assertAlmostEqual(in_air["value"], -12.2, delta=0.5)
        self.assertAlmostEqual(likely["value"], 50, delta=0.5)
        self.assertTrue(0.5 <= likely["u"] <= 1.5, likely)
        for told in (in_air, likely):
            self.assertEqual((told["severity"], told["quantity"]), ("warning", "co_ppm"))
        plateau = of_kind(out, "plateau")[-1]
        self.assertEqual(likely["time_s"], plateau["declared_s"])
        self.assertAlmostEqual(plateau["readings"]["co_ppm"]["value"], 38, delta=0.1)
        self.assertEqual(plateau["flags"], [])  # the reading is what was measured
        words = " ".join(run("settle", case).stdout.decode().split())
        self.assertIn("CO is likely 50 ± 1 ppm in this reading", words)
        self.assertIn("the reading keeps 38.0 ppm, as measured", words)

    def test_017_tired_oxygen_cell(self):
        """20.1 % in air: 5.00 is 5.199 scaled, 5.8 shifted; excess air 31.4 or 33.1 %."""
        case = CASES / "017-tired-o2-cell.csv"
        out = run("settle", "--jsonl", case).stdout
        in_air, likely = [e for e in of_kind(out, "finding")
                          if e["finding"] == "oxygen_cell_tired"]
        self.assertAlmostEqual(in_air["value"], 20.1, delta=0.001)
        self.assertAlmostEqual(20.9 - in_air["value"], 0.8, delta=0.001)
        self.assertGreater(in_air["u"], 0)  # a display of tenths that stands still
        self.assertAlmostEqual(likely["value"], 5.199, delta=0.001)
        self.assertGreater(likely["value"] + likely["u"], 5.8)
        plateau = of_kind(out, "plateau")[-1]
        self.assertAlmostEqual(plateau["readings"]["o2_pct"]["value"], 5.00, delta=0.005)
        self.assertAlmostEqual(plateau["derived"]["excess_air_pct"]["value"], 31.4, delta=0.05)
        words = " ".join(run("settle", case).stdout.decode().split())
        self.assertIn("O2 is likely 5.20 % in this reading if the cell's sensitivity has changed, "
                      "5.80 % if its zero has moved (excess air 33.1 or 38.4 %, not 31.4 %); the "
                      "reading keeps 5.00 %, as measured.", words)

    def test_018_frozen_thermocouple(self):
        """Exactly 405.3 from 200 s on; burner off at 400 s."""
        case = CASES / "018-frozen-thermocouple.csv"
        out = run("settle", "--jsonl", case).stdout
        (stuck,) = [e for e in of_kind(out, "finding") if e["finding"] == "channel_stuck"]
        self.assertEqual((stuck["quantity"], stuck["value"]), ("stack_temp_degF", 405.3))
        self.assertTrue(200 <= stuck["time_s"] <= 260)
        self.assertIn("The stack temperature has stood at 405.3 °F since 3:20.", stuck["text"])
        plateaus = of_kind(out, "plateau")
        self.assertEqual((plateaus[-1]["end_reason"], len({p["declared_s"] for p in plateaus})),
                         ("stuck", 1))
        self.assertLess(plateaus[-1]["to_s"], 200)

    def test_020_ambient_probe_warms(self):
        """+1.2 degF/min. A minute of a display that moves in steps of 0.2 degF leaves ± 0.15 of a
        rate open, which is when it is told; the whole plateau knows it within 0.05."""
        out = run("settle", "--jsonl", CASES / "020-ambient-probe-warms.csv").stdout
        (drift,) = [e for e in of_kind(out, "finding") if e["finding"] == "ambient_drifts"]
        self.assertEqual(drift["quantity"], "ambient_temp_degF_per_min")
        self.assertAlmostEqual(drift["value"], 1.20, delta=0.05)
        # Rounding alone: 0.2/sqrt(12) degF about a line through 7 rows 10 s apart, k = 2.
        self.assertAlmostEqual(drift["u"], 0.13, delta=0.03)
        plateau = of_kind(out, "plateau")[-1]
        air = plateau["readings"]["ambient_temp_degF"]
        self.assertAlmostEqual(air["rate_per_min"], 1.20, delta=0.01)
        self.assertLessEqual(air["rate_bound_per_min"], 1.25)
        self.assertAlmostEqual(plateau["readings"]["stack_temp_degF"]["value"], 450.0, delta=0.1)
        self.assertAlmostEqual(plateau["derived"]["net_stack_temp_degF"]["value"],
                               (380 + 356) / 2, delta=0.1)

    def test_058_altitude_is_thought_of_before_age(self):
        """17.88 % in air; 4.27 is 4.99 scaled by 1.169; excess air 25.7 or 31.4 %."""
        case = CASES / "058-altitude.csv"
        likely = [e for e in of_kind(run("settle", "--jsonl", case).stdout, "finding")
                  if e["finding"] == "oxygen_cell_tired"][1]
        self.assertAlmostEqual(likely["value"], 4.99, delta=0.005)
        words = " ".join(run("settle", case).stdout.decode().split())
        self.assertIn("think of altitude before the cell's age", words)
        self.assertIn("excess air 31.4 or", words)
        self.assertIn("not 25.7 %", words)

    def test_025_the_reading_waits_for_the_gas_and_tells_its_lag(self):
        case = CASES / "025-slow-gas-path.csv"
        for more in ([], ["--finished"]):
            plateau = of_kind(run("settle", "--jsonl", *more, case).stdout, "plateau")[-1]
            self.assertGreaterEqual(plateau["declared_s"], 310)
            for key, value, delta in (("stack_temp_degF", 410, 0.1), ("o2_pct", 4.50, 0.02),
                                      ("co_ppm", 28, 0.2)):
                self.assertAlmostEqual(plateau["readings"][key]["value"], value, delta=delta)
            for key in ("o2_pct", "co_ppm"):
                self.assertTrue(60 <= plateau["readings"][key]["lag_s"] <= 100)
            self.assertIsNone(plateau["readings"]["stack_temp_degF"]["lag_s"])
        words = run("settle", case).stdout.decode()
        self.assertIn("O2 follows the stack by about 70 s, CO by about 70 s\n", words)

    def test_027_three_lines_are_rejected_with_their_place(self):
        done = run("settle", "--jsonl", "--verbose", CASES / "027-reboot-garbage.bin")
        lines = [e["line"] for e in of_kind(done.stdout, "rejection")]
        self.assertEqual(sorted(set(lines)), [12, 13, 14])

    def test_026_029_no_fragment_and_no_padding_is_a_value(self):
        times = self.column("026-joined-mid-stream.txt", "time_s", *FIELDS)
        self.assertEqual(times, list(range(10, 121, 10)))
        self.assertNotIn(68, self.column("026-joined-mid-stream.txt", "stack_temp_degF", *FIELDS))
        self.assertEqual(self.column("029-nul-padding.bin", "time_s")[10], 100)

    def test_030_032_values_are_what_was_written(self):
        self.assertEqual(self.column("030-european.csv", "co_ppm"),
                         [21, 999.5, 1000, 1234.5, 987, 21, 20.5, 21, 21.5, 22])
        for key, count, about in (("stack_temp_degF", 10, 412.24), ("o2_pct", 12, 5.117),
                                  ("co_ppm", 11, 19.36)):
            values = self.column("032-markers.csv", key)
            self.assertEqual(len(values), count)
            self.assertAlmostEqual(mean(values), about, delta=0.005)
        self.assertEqual(self.column("032-markers.csv", "co_ppm").count(0), 1)

    def test_034_three_encodings_are_one_log(self):
        logs = [run("look", "frames", CASES / name).stdout for name in (
            "034a-utf8-bom.csv", "034b-utf16le.csv", "034c-latin1-degree.csv")]
        self.assertEqual(logs[0], logs[1])
        self.assertEqual(logs[0], logs[2])

    def test_035_to_040_intervals(self):
        def steps(name, *words):
            times = self.column(name, "time_s", *words)
            return [round(b - a, 6) for a, b in zip(times, times[1:])]
        self.assertEqual(steps("035-twelve-hour-clock.csv"), [10] * 5 + [43150] + [10] * 5)
        self.assertEqual(steps("036-no-year.csv"), [10] * 5)
        self.assertEqual(steps("037-dst-fold.csv", "--time-zone", "America/New_York"), [30] * 23)
        self.assertEqual(sorted(set(steps("037-dst-fold.csv"))), [-3570, 30])
        self.assertEqual(set(steps("040-minute-stamps.csv")[60:]), {1})

    def test_042_both_parts_are_425_degF(self):
        out = run("look", "frames", "--show", "degF", CASES / "042-unit-switch.csv").stdout
        parts = out.decode().split("time_s,")[1:]
        self.assertEqual(len(parts), 2)
        for part in parts:
            values = [float(line.split(",")[2]) for line in part.splitlines()[1:]]
            self.assertAlmostEqual(mean(values), 425.0, delta=0.15)

    def test_043_044_049(self):
        plateau = of_kind(run("settle", "--jsonl", "--change-only", "--require", "stack_temp",
                              CASES / "043a-change-only.csv").stdout, "plateau")[-1]
        reading = plateau["readings"]["stack_temp_degF"]
        # The last degree took 439 s: 0.14 a minute. Between two rows nothing moves.
        self.assertTrue(422 < reading["value"] <= 425, reading)
        self.assertLessEqual(abs(reading["rate_per_min"]), 0.3)
        self.assertEqual(set(self.column("044-messy-cells.csv", "stack_temp_degF")), {425, 426})
        self.assertEqual(set(self.column("044-messy-cells.csv", "co_ppm")), {21})
        values = self.column("049-host-settings.csv", "stack_temp_degF")
        self.assertEqual(len(values), 55)
        self.assertAlmostEqual(mean(values), 123.45, delta=0.01)


if __name__ == "__main__":
    main()
