# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The smaller verbs, and the help of all of them."""

import csv
import io
import json
import re

from command import HEADER, CommandTest, main, of_kind, run, simulated, steady_log

VERBS = ("settle", "derive", "look", "simulate", "list")


class Help(CommandTest):
    def test_each_verb_shows_an_example(self):
        for words in ([], *([verb] for verb in VERBS)):
            done = run(*words, "--help")
            self.assert_status(done, 0)
            text = done.stdout.decode()
            self.assertRegex(text, r"Examples?:\n  stilling ")
            self.assertIn("Usage: stilling", text)
            self.assertEqual(done.stderr, b"")

    def test_every_verb_is_named_and_cautions_come_first(self):
        text = run("--help").stdout.decode()
        for verb in VERBS:
            self.assertRegex(text, rf"\n  {verb} ")
        self.assertIn("maker's instructions", text)

    def test_every_option_is_tried_somewhere(self):
        from pathlib import Path
        tried = "".join(p.read_text() for p in Path(__file__).parent.glob("*_test.py")
                        if p.name != Path(__file__).name)
        for verb in ("settle", "derive"):
            for option in re.findall(r"\n  (--[a-z0-9-]+)", run(verb, "--help").stdout.decode()):
                self.assertTrue(f'"{option}"' in tried, option)

    def test_version(self):
        self.assertRegex(run("--version").stdout.decode(), r"\Astilling \d+\.\d+\.\d+\n\Z")


class Simulate(CommandTest):
    def test_the_same_seed_is_the_same_test(self):
        self.assertEqual(run("simulate", "first_visit", "--seed", 7).stdout, simulated())
        self.assertNotEqual(run("simulate", "first_visit", "--seed", 8).stdout, simulated())

    def test_list_names_each_scenario_with_a_sentence(self):
        lines = run("simulate", "--list").stdout.decode().splitlines()
        self.assertGreaterEqual(len(lines), 6)
        for line in lines:
            self.assertRegex(line, r"^[a-z_]+ +\S.*\.$")
            self.assert_status(run("simulate", line.split()[0]), 0)

    def test_log_and_truth_into_files(self):
        log, truth = self.folder / "log.csv", self.folder / "truth.json"
        done = run("simulate", "first_visit", "--seed", 7, "--out", log, "--truth", truth)
        self.assert_status(done, 0)
        self.assertEqual(done.stdout, b"")
        self.assertEqual(log.read_bytes(), simulated())
        self.assertIn("intervals", json.loads(truth.read_text()))
        self.assertEqual(sorted(p.name for p in self.folder.iterdir()), ["log.csv", "truth.json"])

    def test_a_file_that_cannot_be_written_is_2(self):
        done = run("simulate", "first_visit", "--out", self.folder / "none" / "log.csv")
        self.assert_status(done, 2)
        self.assertIn(b"log.csv", done.stderr)


class List(CommandTest):
    def test_every_channel_with_its_units(self):
        text = run("list", "channels").stdout.decode()
        for channel, units in (("stack_temp", "degF"), ("o2", "pct"), ("co", "ppm"),
                               ("draft_breech", "inH2O")):
            self.assertRegex(text, rf"(?m)^{channel} .*\b{units}\b")
        self.assertIn("common practice", text)
        self.assertIn("[degF]", text)

    def test_every_fuel_with_its_sources(self):
        text = run("list", "fuels").stdout.decode()
        self.assertRegex(text, r"(?m)^no2_oil: ")
        self.assertIn("40 CFR 75", text)

    def test_the_criteria_with_their_limits(self):
        text = run("list", "criteria").stdout.decode()
        self.assertRegex(text, r"(?m)^stack_temp +3 degF$")
        self.assertRegex(text, r"(?m)^strict ")
        self.assertIn("common practice", text)


class Look(CommandTest):
    def rows(self, joint, log, *words):
        done = run("look", joint, *words, log=log)
        self.assert_status(done, 0)
        return list(csv.DictReader(io.StringIO(done.stdout.decode())))

    def test_frames_show_what_was_read(self):
        log = steady_log().replace("\n50,", "\n# a note\n50,").replace("\n60,451,", "\n60,9999,")
        rows = self.rows("frames", log)
        self.assertEqual(len(rows), 300)
        self.assertEqual((rows[0]["time_s"], rows[0]["line"], rows[0]["stack_temp_degF"]),
                         ("0", "2", "450"))
        self.assertEqual(rows[50]["line"], "53")

    def test_frames_can_be_read_again(self):
        frames = run("look", "frames", log=simulated()).stdout
        first = of_kind(run("settle", "--jsonl", log=simulated()).stdout, "plateau")
        again = of_kind(run("settle", "--jsonl", log=frames).stdout, "plateau")
        self.assertEqual([p["declared_s"] for p in first], [p["declared_s"] for p in again])

    def test_verdicts_agree_with_what_settle_says(self):
        log = simulated()
        rows = self.rows("verdicts", log)
        changes = of_kind(run("settle", "--jsonl", log=log).stdout, "phase")
        now, k = None, 0
        for row in rows:
            while k < len(changes) and changes[k]["time_s"] <= float(row["time_s"]):
                now, k = changes[k]["phase"], k + 1
            self.assertEqual(row["phase"], now)
            self.assertIn(row["stack_temp"], ("steady", "transient", "undecided"))

    def test_marks_are_named(self):
        log = steady_log().replace("\n150,450,", "\n150,9999,").replace("\n150,451,", "\n150,9999,")
        settled = of_kind(run("settle", "--jsonl", log=log).stdout, "plateau")[-1]
        self.assertEqual(settled["readings"]["stack_temp_degF"]["set_aside"], 1)
        over = steady_log().replace("\n150,450,", "\n150,OVR,").replace("\n150,451,", "\n150,OVR,")
        row = self.rows("frames", over)[150]
        self.assertEqual((row["stack_temp_degF"], row["marks"]), ("", "stack_temp:over_range"))

    def test_lines_that_could_not_be_read_are_told_beside(self):
        done = run("look", "frames", log=HEADER + "\n0,450,68,5,20\nx,450,68,5,20\ny\n")
        self.assert_status(done, 0)
        self.assertEqual(len(done.stdout.splitlines()), 2)
        self.assertEqual([line.split(b":")[0] for line in done.stderr.splitlines()],
                         [b"stilling", b"stilling"])

    def test_nothing_to_look_at(self):
        self.assert_status(run("look", "frames", log=HEADER + "\n"), 1)
        self.assert_status(run("look", "verdicts", self.folder / "none.csv"), 2)


if __name__ == "__main__":
    main()
