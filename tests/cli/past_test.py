# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Kept tests again: lists, the course over years as it was when last looked at, exports, and
deletion that leaves no byte.

A change of a golden is not wrong, but it is to be read. To keep it: RENEW_GOLDEN=1 before the
command.
"""

import csv
import io
import json
import os
import sqlite3
from pathlib import Path

from command import CommandTest, main, run, simulated, steady_log

GOLDEN = Path(__file__).parent.parent / "golden"
SEEDS = {2022: 2, 2023: 3, 2024: 4, 2025: 5}


class Past(CommandTest):
    maxDiff = None

    def setUp(self):
        super().setUp()
        self.db = self.folder / "tests.db"

    def keep(self, log, day, *words):
        done = run("keep", self.db, "-", "--date", day, *words, log=log)
        self.assertIn(done.returncode, (0, 1), done.stderr.decode())

    def past(self, *words, status=0):
        done = run("past", self.db, *words)
        self.assert_status(done, status)
        return done

    def four_years(self):
        about = ("--customer", "A. Invented", "--site", "12 Invented Lane", "--appliance", "boiler")
        for year, seed in SEEDS.items():
            self.keep(simulated("first_visit", seed), f"{year}-11-02", *about)
        self.keep(simulated("never_lit", 1), "2024-01-05", "--customer", "B. Invented")


class Golden(Past):
    def compare(self, name, *words):
        self.four_years()
        done = self.past(*words)
        kept = GOLDEN / name
        if os.environ.get("RENEW_GOLDEN"):
            kept.write_bytes(done.stdout)
        self.assertEqual(done.stdout.decode(), kept.read_text(encoding="utf-8"))

    def test_list(self):
        self.compare("past_list.txt")

    def test_course(self):
        self.compare("past_course.txt", "--appliance", "boiler")

    def test_course_as_found(self):
        self.compare("past_found.txt", "--site", "12 Invented Lane", "--reading", "first",
                     "--show", "degC,Pa")


class Course(Past):
    def test_says_what_changed(self):
        # Alike but for 60 degF more in the flue: net temperature is 62 or so apart, O2 the same.
        for day, more in (("2023-11-02", 0), ("2024-11-02", 60)):
            log = steady_log(300).replace(",450,", f",{450 + more},").replace(",451,",
                                                                             f",{451 + more},")
            self.keep(log, day, "--appliance", "boiler")
        page = self.past("--appliance", "boiler").stdout.decode()
        self.assertRegex(page, r"more than chance: net stack temperature \+60\.0 ± 0\.\d")
        self.assertRegex(page, r"not by more: O2")
        self.assertNotIn("a year:", page)

    def test_one_test_is_a_course_too(self):
        self.keep(steady_log(300), "2023-11-02")
        page = self.past("--test", 1).stdout.decode()
        self.assertIn("Appliance without a name", page)
        self.assertIn("1 settled reading", page)

    def test_several_appliances_are_a_list(self):
        self.four_years()
        self.assertIn("--html is of one appliance", self.past("--html", status=2).stderr.decode())
        page = self.past("--html", "--appliance", "boiler").stdout.decode()
        self.assertIn("<svg", page)
        self.assertNotIn("http", page)
        self.assertIn("5 tests of 2 appliances", self.past().stdout.decode())
        self.assertIn("net stack temperature",
                      self.past("--customer", "A. Invented").stdout.decode())

    def test_of_nobody(self):
        self.four_years()
        done = self.past("--customer", "C. Invented", status=2)
        self.assertIn("there are 'A. Invented', 'B. Invented'", done.stderr.decode())
        self.assertIn("no such test 9", self.past("--test", 9, status=2).stderr.decode())


class Export(Past):
    def test_csv_has_a_row_for_each_reading(self):
        self.four_years()
        rows = list(csv.DictReader(io.StringIO(self.past("--csv").stdout.decode())))
        self.assertEqual(len(rows), 13)
        settled = run("settle", "--csv", log=simulated("first_visit", 3)).stdout.decode()
        for own, kept in zip(csv.DictReader(io.StringIO(settled)),
                             [r for r in rows if r["test"] == "2"], strict=True):
            for key in ("stack_temp_degF", "stack_temp_degF_u", "o2_pct", "o2_pct_u", "co_ppm",
                        "net_stack_temp_degF", "efficiency_gross_pct", "efficiency_gross_pct_u",
                        "declared_s", "end_reason"):
                self.assertEqual(own[key], kept[key], key)

    def test_json_numbers_are_those_of_the_file(self):
        self.four_years()
        tests = json.loads(self.past("--json").stdout)["tests"]
        self.assertEqual([t["test"] for t in tests], [1, 2, 5, 3, 4])
        with sqlite3.connect(self.db) as d:
            for test, place, figure, value in d.execute(
                    "SELECT test, reading, figure, value FROM derived WHERE value IS NOT NULL"):
                of = next(t for t in tests if t["test"] == test)["plateaus"][place]["derived"]
                key = next(k for k in of if k == figure or k.rsplit("_", 1)[0] == figure
                           or k.startswith(figure + "_mol_") or k.startswith(figure + "_J_"))
                self.assertEqual(of[key]["value"], value, key)  # the same bits

    def test_one_customer_into_a_folder(self):
        self.four_years()
        out = self.folder / "out"
        done = self.past("--customer", "A. Invented", "--export", out)
        self.assertIn("4 tests are in ", done.stdout.decode())
        self.assertEqual((out / "test-2-2023-11-02.log").read_bytes(), simulated("first_visit", 3))
        self.assertTrue((out / "test-2-2023-11-02.settings.toml").exists())
        self.assertEqual(len(json.loads((out / "tests.json").read_text())["tests"]), 4)
        self.assertEqual(len((out / "tests.csv").read_text().splitlines()), 13)
        self.assertEqual(len(list(out.iterdir())), 10)
        # What was handed out can be kept again, as the same test.
        again = run("keep", self.db, out / "test-2-2023-11-02.log", "--date", "2023-11-02",
                    "--settings", out / "test-2-2023-11-02.settings.toml")
        self.assertIn("already as test 2", again.stdout.decode())


class Forget(Past):
    SECRETS = (b"Quixana Velloreth", b"99 Secret Alley", b"remarkable-note", b"Brambleheat 4711")

    def remains(self):
        return [s for s in self.SECRETS if s in self.db.read_bytes()] + [
            p for p in self.folder.iterdir() if p != self.db]

    def test_leaves_no_byte(self):
        own = ("--customer", self.SECRETS[0].decode(), "--site", self.SECRETS[1].decode(),
               "--appliance", self.SECRETS[3].decode())
        note = b"# remark remarkable-note\n"
        for number in range(12):  # theirs and others', page by page
            log = simulated("first_visit", number).replace(b"# draft zeroed\n",
                                                           b"# draft zeroed\n" + note)
            if number % 3 == 0:
                self.keep(log, f"20{10 + number}-11-02", *own)
            else:
                self.keep(simulated("first_visit", number), "2024-11-02", "--customer",
                          f"Other {number}")
        self.assertEqual(len(self.remains()), 4)
        before = self.db.read_bytes()
        done = self.past("--customer", own[1], "--forget", status=2)
        self.assertIn("4 tests would go", done.stderr.decode())
        self.assertIn("Nothing was deleted", done.stderr.decode())
        self.assertIn(own[1], done.stdout.decode())
        self.assertEqual(self.db.read_bytes(), before)
        done = self.past("--customer", own[1], "--forget", "--yes")
        self.assertIn("4 tests are gone", done.stdout.decode())
        self.assertEqual(self.remains(), [])
        for number in (0, 3, 6, 9):  # nor any line of their logs long enough to be theirs alone
            for line in simulated("first_visit", number).splitlines()[700:1200:50]:
                if len(line) > 30:
                    kept_too = any(line in simulated("first_visit", n) for n in range(12) if n % 3)
                    self.assertTrue(kept_too or line not in self.db.read_bytes(), line)
        self.assertIn("8 tests of 8 appliances", self.past().stdout.decode())
        with sqlite3.connect(self.db) as d:
            self.assertEqual(d.execute("PRAGMA integrity_check").fetchall(), [("ok",)])
            self.assertEqual(d.execute("PRAGMA freelist_count").fetchall(), [(0,)])
        self.past("--customer", own[1], "--forget", "--yes", status=2)

    def test_replacing_leaves_none_of_the_old_words(self):
        log = steady_log(200)
        self.keep(log, "2024-11-02", "--customer", self.SECRETS[0].decode())
        self.keep(log, "2024-11-02", "--customer", "A. Invented", "--replace")
        self.assertEqual(self.remains(), [])

    def test_asks_whom(self):
        self.keep(steady_log(200), "2024-11-02")
        self.assertIn("--forget whom?", self.past("--forget", "--yes", status=2).stderr.decode())
        self.assertIn("--forget", self.past("--yes", status=2).stderr.decode())
        self.past("--test", 1, "--forget", "--yes")
        self.assertIn("No test is kept here yet", self.past().stdout.decode())


if __name__ == "__main__":
    main()
