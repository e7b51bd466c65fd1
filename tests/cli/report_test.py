# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The report of a finished test: on paper and for programs, from logs of many kinds."""

import json
from pathlib import Path

from command import CommandTest, events, main, run, simulated, steady_log

CASES = Path(__file__).parent.parent / "cases"
DRAFTLESS = "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm"


def without_notes(log):
    return b"".join(x for x in log.splitlines(keepends=True) if not x.startswith(b"#"))


def without_columns(log, *names):
    lines = log.decode().splitlines()
    head = lines[0].split(",")
    kept = [i for i, name in enumerate(head) if name not in names]
    return "".join((x if x.startswith("#") else ",".join(x.split(",")[i] for i in kept)) + "\n"
                   for x in lines).encode()


class Report(CommandTest):
    def report(self, *words, log, status=0):
        done = run("report", *words, log=log)
        self.assert_status(done, status)
        return done.stdout.decode()

    def one_line(self, *words, **more):
        """As wide as nothing is broken."""
        return self.report("--width", "400", *words, **more)

    def object(self, *words, **more):
        return json.loads(self.report("--json", *words, **more))

    def test_paper_is_as_wide_as_was_asked(self):
        for scenario in ("first_visit", "short_cycling", "cold_instrument", "broken_clock",
                         "staged_firing", "never_lit", "eventful"):
            for width in (48, 80):
                done = run("report", "--width", width, log=simulated(scenario, 3))
                self.assertIn(done.returncode, (0, 1), done.stderr)
                for line in done.stdout.decode().replace("\f", "\n").splitlines():
                    self.assertLessEqual(len(line), width, line)

    def test_readings_are_those_of_settle(self):
        log = simulated()
        told = self.object(log=log)
        done = run("settle", "--jsonl", log=log)
        closed = [e for e in events(done.stdout) if e["event"] == "plateau" and e["to_s"]]
        self.assertEqual([row["plateau"] for row in told["rows"]], closed)
        self.assertEqual(told["end"], events(done.stdout)[-1])
        # What settle says of a test row by row; the report also asks for steps nobody noted.
        said = [e for e in events(done.stdout) if e["event"] == "finding"]
        self.assertTrue(all(e in told["findings"] for e in said))

    def test_moves_are_the_notes_before_a_reading(self):
        rows = self.object(log=simulated())["rows"]
        self.assertEqual([[m["text"] for m in row["moves"]] for row in rows],
                         [[], ["adjusted air"], ["adjusted air"]])
        self.assertEqual([row["smoke"]["text"] for row in rows],
                         ["smoke 2", "smoke 1", "smoke trace"])

    def test_without_notes_no_move_is_told(self):
        log = without_notes(simulated())
        text = self.one_line(log=log)
        self.assertNotIn("Moved:", text)
        self.assertIn("what was moved is not said", text)
        self.assertIn("no smoke spot was noted", text)
        self.assertEqual([r["moves"] for r in self.object(log=log)["rows"]], [[], [], []])

    def test_without_oxygen_figures_are_withheld_with_their_reason(self):
        log = without_columns(simulated(), "o2_pct")
        text = self.one_line("--combustion-check", "off", log=log)
        self.assertIn("No excess air: neither O2 nor CO2 was read.", text)
        self.assertNotIn("O2 0", text)
        for row in self.object("--combustion-check", "off", log=log)["rows"]:
            self.assertIsNone(row["plateau"]["derived"]["excess_air_pct"]["value"])

    def test_without_draft_none_is_told(self):
        log = without_columns(simulated(), "draft_breech_inH2O", "draft_overfire_inH2O")
        text = self.one_line(log=log)
        self.assertIn("Draft was not read.", text)
        self.assertNotIn("inH2O", text)

    def test_one_reading_is_compared_with_nothing(self):
        text = self.one_line(log=simulated("cold_start", 1))
        self.assertIn("There is one settled reading, so nothing can be held against another.", text)
        self.assertNotIn("What that saves", text)

    def test_where_nothing_settled_status_is_1_and_the_report_says_why(self):
        cold = DRAFTLESS + "\n" + "".join(f"{t},70,68,20.9,0\n" for t in range(300))
        text = self.one_line(log=cold, status=1)
        self.assertIn("Nothing settled: no fire was seen.", text)
        self.assertNotIn("How hot", text)
        self.assertEqual(self.object(log=cold, status=1)["rows"], [])

    def test_an_empty_log_is_status_1(self):
        self.assertIn("the log holds no readings", self.one_line(log=b"", status=1))

    def test_what_is_no_log_is_refused(self):
        done = run("report", log=b"a,b\n1,2\n")
        self.assert_status(done, 2)
        self.assertEqual(done.stdout, b"")
        self.assertIn(b"no header was found", done.stderr)

    def test_carbon_monoxide_stands_before_all_else(self):
        log = steady_log(400, rows="{t},{stack},68,5.{o2},600", header=DRAFTLESS)
        text = self.one_line(log=log)
        self.assertLess(text.index("\nDANGER\n"), text.index("What settled"))
        self.assertIn("too much carbon monoxide", text[text.index("\f"):])

    def test_a_little_carbon_monoxide_in_the_room_is_told_as_little(self):
        text = self.one_line(log=simulated("cold_instrument", 2))  # reads 13 ppm in fresh air
        self.assertIn("* A little carbon monoxide was read in the air of the room.", text)
        self.assertNotIn("Do not use the burner until", text)

    def test_a_cold_instrument_is_told(self):
        log = simulated("warming_instrument", 5)
        self.assertIn("instrument_cold", [f["finding"] for f in self.object(log=log)["findings"]])
        self.assertIn("The instrument was still warming", self.one_line(log=log))

    def test_lines_not_used_are_counted_and_the_first_shown(self):
        lines = simulated().decode().splitlines()
        lines[900] = "garbage"
        lines[901] = "more garbage"
        text = self.one_line(log="\n".join(lines) + "\n")
        self.assertIn("Not used in full, the first of each kind:", text)
        self.assertRegex(text, r"\n\* 2 × line 901.*garbage")
        done = run("report", "--fail-on-rejection", log="\n".join(lines) + "\n")
        self.assert_status(done, 2)
        self.assertIn("What settled", done.stdout.decode())

    def test_a_break_stands_in_the_course(self):
        log = (CASES / "038-clock-reset.csv").read_bytes()
        text = run("report", "--width", "400", log=log).stdout.decode()
        first, broke, settled = (text.index(x) for x in (
            "\n00:00:00  fire", "the clock jumped ahead (line 8)", "settled: reading 1"))
        self.assertLess(first, broke)
        self.assertLess(broke, settled)
        self.assertIn("On 24 November 2026 the burner was tested.", text)

    def test_times_are_local_where_a_zone_is_named(self):
        log = (CASES / "037-dst-fold.csv").read_bytes()
        done = run("report", "--time-zone", "America/New_York", log=log)
        self.assertIn("1 November 2026, 01:54:00 to ", done.stdout.decode())
        self.assertIn("(America/New_York)", done.stdout.decode())

    def test_out_is_whole_or_not_there(self):
        path = self.folder / "report.txt"
        self.assertEqual(self.report("--out", path, log=simulated()), "")
        self.assertEqual(path.read_text(encoding="utf-8"), self.report(log=simulated()))
        done = run("report", "--out", self.folder / "none" / "r.txt", log=simulated())
        self.assert_status(done, 2)
        self.assertIn(b"r.txt: ", done.stderr)

    def test_copies(self):
        text = self.report("--copies", "3", log=simulated())
        self.assertEqual(text.count("\f"), 5)
        self.assertEqual(text.count("copy 3 of 3"), 2)

    def test_hindsight_and_criteria_are_those_of_settle(self):
        log = simulated()
        for words in (["--finished"], ["--require", "stack_temp"], ["--show", "degC,Pa"],
                      ["--fuel", "b20", "--air-temp", "60degF"], ["--drift-correction"]):
            rows = self.object(*words, log=log)["rows"]
            done = run("settle", "--csv", *words, log=log)
            self.assertEqual(len(rows), len(done.stdout.splitlines()) - 1)
        done = run("report", "--finished", "--criterion", "us_oil_heater", log=log)
        self.assert_status(done, 2)

    def test_basis_is_gross_or_net_and_never_both(self):
        self.assertNotIn("net basis", self.one_line(log=simulated()))
        text = self.one_line("--method", "siegert", log=simulated())
        self.assertIn("net basis", text)
        self.assertNotIn("gross basis", text)


class Particulars(CommandTest):
    def refused(self, text):
        done = run("report", "--particulars", self.file("p.toml", text), log=simulated())
        self.assert_status(done, 2)
        return done.stderr.decode()

    def test_what_is_said_is_printed_and_the_rest_left_blank(self):
        path = self.file("p.toml", '[particulars]\ncustomer = "R. Quill"\n'
                                   'yearly_use = "900 gal"\nprice = "3.80 $/gal"\n')
        text = run("report", "--particulars", path, "--width", "400", log=simulated())
        text = text.stdout.decode()
        self.assertIn("For whom   R. Quill, at ____", text)
        self.assertIn("Of 900 gal a year that is ", text)
        self.assertIn(" at 3.80 $/gal, ", text)

    def test_in_the_settings_file_too(self):
        path = self.file("s.toml", 'fuel = "b20"\n[particulars]\ncustomer = "R. Quill"\n')
        done = run("report", "--settings", path, log=simulated())
        self.assertIn(b"R. Quill", done.stdout)
        self.assert_status(run("settle", "--settings", path, log=simulated()), 0)

    def test_faults_name_line_key_and_remedy(self):
        self.assertIn("p.toml:2: 'custommer' is no setting of [particulars]; did you mean "
                      "customer?", self.refused('[particulars]\ncustommer = "x"\n'))
        self.assertIn('p.toml:2: yearly_use: \'900\' is no year\'s use of fuel; write "900 gal"',
                      self.refused("[particulars]\nyearly_use = 900\n"))
        self.assertIn('p.toml:2: price: says nothing without the year\'s use; add yearly_use',
                      self.refused('[particulars]\nprice = "3.80 $/gal"\n'))
        self.assertIn("p.toml:3: price: is per l, but yearly_use is in gal; use one unit for both",
                      self.refused('[particulars]\nyearly_use = "900 gal"\nprice = "1 $/l"\n'))
        self.assertIn("p.toml:2: price: '4' is no price of fuel",
                      self.refused("[particulars]\nprice = 4\n"))
        self.assertIn("p.toml:2: date: this is a date or a time; write date = \"...\"",
                      self.refused("[particulars]\ndate = 2026-03-03\n"))
        self.assertIn("p.toml: nothing stands under [particulars]", self.refused("[particulars]\n"))

    def test_help_shows_an_example(self):
        done = run("report", "--help")
        self.assert_status(done, 0)
        self.assertIn(b"stilling report --particulars visit.toml", done.stdout)
        self.assertIn(b"--finished", done.stdout)


if __name__ == "__main__":
    main()
