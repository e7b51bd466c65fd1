# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The three forms an answer comes in."""

import csv
import io
import json
import os
import pty
import subprocess

from command import (ENVIRONMENT, HEADER, STILLING, CommandTest, events, main, of_kind, run,
                     simulated, steady_log)

KEYS = {
    "begin": ["event", "schema", "version", "file", "layout"],
    "phase": ["event", "time_s", "phase", "reason"],
    "plateau": ["event", "declared_s", "from_s", "to_s", "released_s", "end_reason", "readings",
                "derived", "flags"],
    "finding": ["event", "time_s", "finding", "severity", "quantity", "value", "u", "limit",
                "basis", "limit_name", "straddles", "text"],
    "break": ["event", "time_s", "line", "kind"],
    "rejection": ["event", "line", "fault", "field", "seen"],
    "end": ["event", "outcome", "plateaus", "rows", "frames", "rejected", "burns", "assumptions"],
}
READING = ["value", "u", "rate_per_min", "rate_bound_per_min", "remaining", "peak", "lag_s",
           "coverage", "longest_gap_s", "n", "n_effective", "set_aside"]
PHASES = {"no_data", "instrument_warm_up", "fresh_air", "idle", "appliance_warm_up", "settling",
          "steady", "disturbed", "cooling"}
REASONS = {"departed", "burner_off", "probe_out", "diluted", "stage_change", "stuck", "gap",
           "break", "end_of_log"}
KINDS = {"clock_back", "clock_jump", "repeat", "new_header", "new_units", "restart", "reconnect"}


class JsonLines(CommandTest):
    def test_keys_stand_in_their_order_and_values_are_of_their_kind(self):
        for scenario in ("first_visit", "broken_clock", "faulty_sensors", "hunting"):
            out = run("settle", "--jsonl", "--verbose", log=simulated(scenario)).stdout
            said = events(out)
            self.assertEqual([said[0]["event"], said[-1]["event"]], ["begin", "end"])
            self.assertEqual(sum(e["event"] in ("begin", "end") for e in said), 2)
            for e in said:
                keys = list(e)
                if e["event"] == "plateau" and keys[-1] == "oscillation":
                    self.assertIn("hunting", e["flags"])
                    self.assertEqual(list(e["oscillation"]), ["period_s", "amplitude"])
                    keys.pop()
                self.assertEqual(keys, KEYS[e["event"]])
                if e["event"] == "phase":
                    self.assertIn(e["phase"], PHASES)
                if e["event"] == "break":
                    self.assertIn(e["kind"], KINDS)

    def test_begin_names_the_columns(self):
        begin = of_kind(run("settle", "--jsonl", log=steady_log()).stdout, "begin")[0]
        self.assertEqual(begin["schema"], 1)
        self.assertIsNone(begin["file"])
        self.assertEqual([(c["field"], c["channel"], c["unit"])
                          for c in begin["layout"]["columns"]],
                         [(1, "time", "s"), (2, "stack_temp", "degF"), (3, "ambient_temp", "degF"),
                          (4, "o2", "pct"), (5, "co", "ppm")])

    def test_each_plateau_is_said_twice(self):
        plateaus = of_kind(run("settle", "--jsonl", log=simulated()).stdout, "plateau")
        opened = [p for p in plateaus if p["to_s"] is None]
        closed = [p for p in plateaus if p["to_s"] is not None]
        self.assertGreater(len(opened), 1)
        self.assertEqual([p["declared_s"] for p in opened], [p["declared_s"] for p in closed])
        for p in opened:
            self.assertIsNone(p["released_s"])
            self.assertIsNone(p["end_reason"])
        for p in closed:
            self.assertIn(p["end_reason"], REASONS)
            self.assertLessEqual(p["from_s"], p["to_s"])
        for p in plateaus:
            for key, reading in p["readings"].items():
                self.assertEqual(list(reading), READING, key)
                self.assertIn(key, simulated().decode().splitlines()[0].split(","))

    def test_an_open_plateau_ends_with_the_log(self):
        last = of_kind(run("settle", "--jsonl", log=steady_log(300)).stdout, "plateau")[-1]
        self.assertEqual((last["to_s"], last["end_reason"], last["released_s"]),
                         (299, "end_of_log", None))

    def test_derived_figures_carry_a_formula_or_a_reason(self):
        log = steady_log(header="time_s,stack_temp_degF,o2_pct,co_ppm",
                         rows="{t},{stack},5.{o2},20")
        for words in ([], ["--air-temp", "68degF"]):
            last = of_kind(run("settle", "--jsonl", *words, log=log).stdout, "plateau")[-1]
            derived = last["derived"]
            for figure in derived.values():
                if figure["value"] is None:
                    self.assertTrue(figure["reason"])
                else:
                    self.assertEqual(list(figure), ["value", "u", "formula"])
            self.assertEqual(derived["efficiency_gross_pct"]["value"] is None, not words)
            # 5.05 % on average: O2/(20.9 - O2), by hand.
            self.assertAlmostEqual(derived["excess_air_pct"]["value"], 100 * 5.05 / 15.85,
                                   delta=0.1)
        self.assertAlmostEqual(derived["net_stack_temp_degF"]["value"], 450.5 - 68, delta=0.1)

    def test_times_are_exact_and_unknown_is_null(self):
        log = steady_log().replace("\n120,", "\n120.000000001,")
        out = run("settle", "--jsonl", log=log.replace("68,", ",")).stdout
        self.assertNotIn(b"nan", out.lower())
        last = of_kind(out, "plateau")[-1]
        self.assertNotIn("ambient_temp_degF", last["readings"])
        self.assertIsNone(last["derived"]["net_stack_temp_degF"]["value"])

    def test_rejections_are_events_only_when_asked_for(self):
        log = steady_log().replace("\n100,451,", "\n100,\"4\x01\xff\",")
        self.assertEqual(of_kind(run("settle", "--jsonl", log=log).stdout, "rejection"), [])
        done = run("settle", "--jsonl", "--verbose", log=log.encode("latin-1"))
        said = of_kind(done.stdout, "rejection")
        self.assertEqual(len(said), 1)
        self.assertEqual(said[0]["line"], 102)
        end = of_kind(done.stdout, "end")[0]
        self.assertEqual(sum(end["rejected"].values()), 1)
        self.assertEqual(end["rows"], 300)

    def test_assumptions_are_told(self):
        def assumed(*words, log=steady_log()):
            end = of_kind(run("settle", "--jsonl", *words, log=log).stdout, "end")[0]
            return end["assumptions"]
        self.assertTrue(any("no2_oil" in a for a in assumed()))
        self.assertEqual(assumed("--fuel", "no2_oil"), [])
        no_oxygen = steady_log(header="time_s,stack_temp_degF,co_ppm", rows="{t},{stack},20")
        said = assumed(log=no_oxygen)
        self.assertTrue(any(a.startswith("combustion_check: ") for a in said), said)
        self.assertTrue(any(a.startswith("required: ") for a in said), said)


class Csv(CommandTest):
    def test_one_row_for_each_plateau_with_the_values_of_the_json_lines(self):
        out = run("settle", "--csv", log=simulated()).stdout.decode()
        rows = list(csv.DictReader(io.StringIO(out)))
        closed = [p for p in of_kind(run("settle", "--jsonl", log=simulated()).stdout, "plateau")
                  if p["to_s"] is not None]
        self.assertEqual(len(rows), len(closed))
        for row, p in zip(rows, closed):
            self.assertEqual(float(row["declared_s"]), p["declared_s"])
            self.assertEqual(row["end_reason"], p["end_reason"])
            for key, reading in p["readings"].items():
                self.assertEqual(float(row[key]), reading["value"])
                self.assertEqual(float(row[key + "_u"]), reading["u"])
            for key, figure in p["derived"].items():
                self.assertEqual(row[key], "" if figure["value"] is None else
                                 json.dumps(figure["value"]).removesuffix(".0"))

    def test_no_name_stands_twice_in_the_header(self):
        for header in (HEADER, "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co2_pct"):
            log = steady_log(header=header, rows="{t},{stack},68,5.{o2},11")
            names = run("settle", "--csv", log=log).stdout.decode().splitlines()[0].split(",")
            self.assertEqual(len(names), len(set(names)))


class Plain(CommandTest):
    def test_a_person_finds_what_they_look_for(self):
        out = run("settle", log=simulated()).stdout.decode()
        for words in ("settled:", "stack temperature, °F", "O2, %", "CO, ppm", "±", "per minute",
                      "net stack temperature", "CO2 from O2", "excess air", "CO air-free",
                      "efficiency, gross", "No. 2 oil", "k = 2", "CO poisons",
                      "maker's instructions"):
            self.assertIn(words, out)

    def test_forty_minutes_fit_on_a_screen(self):
        out = run("settle", log=simulated()).stdout.decode()
        # Three plateaus, a finding at each, one on the smoke of the last.
        self.assertLessEqual(len(out.splitlines()), 64)
        self.assertLessEqual(max(map(len, out.splitlines())), 100)

    def test_notes_stand_in_the_course(self):
        log = steady_log().replace("\n100,", "\n# adjusted air, quarter turn\n100,")
        self.assertIn("1:40  # adjusted air, quarter turn", run("settle", log=log).stdout.decode())

    def test_colour_only_on_a_terminal_and_never_against_the_wish(self):
        path = self.file("log.csv", simulated())
        self.assertNotIn(b"\x1b", run("settle", path).stdout)
        for wish, coloured in (({}, True), ({"NO_COLOR": "1"}, False), ({"TERM": "dumb"}, False)):
            screen, terminal = pty.openpty()
            done = subprocess.Popen([STILLING, "settle", path], stdout=terminal, stderr=terminal,
                                    env={**ENVIRONMENT, "TERM": "xterm", **wish})
            os.close(terminal)
            seen = b""
            try:
                while part := os.read(screen, 4096):
                    seen += part
            except OSError:
                pass
            done.wait()
            os.close(screen)
            self.assertIn(b"settled", seen)
            self.assertEqual(b"\x1b[1m" in seen, coloured, wish)


if __name__ == "__main__":
    main()
