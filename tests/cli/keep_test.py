# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Tests into a file of them: what is there afterwards, whoever writes, stops or stands in the way.

STILLING_KILLS says how often a write is killed; the few of every day are enough to notice a fault
that shows often, a few hundred to trust it.
"""

import csv
import io
import os
import random
import resource
import signal
import sqlite3
import subprocess
import time

from command import ENVIRONMENT, STILLING, CommandTest, main, run, simulated, start, steady_log

KILLS = int(os.environ.get("STILLING_KILLS", "40"))
ABOUT = ("--date", "2025-11-02", "--customer", "A. Invented", "--appliance", "boiler")


def small_log(number):
    """A settled minute or three, different for each number."""
    return steady_log(200, rows="{t},{stack},68,5.{o2}," + f"{10 + number / 1000:.3f}")


class Kept(CommandTest):
    def setUp(self):
        super().setUp()
        self.db = self.folder / "tests.db"

    def keep(self, *words, log=None, status=0):
        done = run("keep", self.db, *words, log=log)
        self.assert_status(done, status)
        return done

    def rows(self, words, *bound):
        with sqlite3.connect(self.db) as d:
            return d.execute(words, bound).fetchall()


class WhatIsKept(Kept):
    def test_bytes_numbers_and_names_come_back(self):
        log = simulated()
        done = self.keep("-", *ABOUT, log=log)
        self.assertEqual(done.stdout.decode(),
                         "standard input is kept as test 1: 2025-11-02, 3 settled readings\n")
        self.assertEqual(self.rows("SELECT log, outcome, fuel FROM test"),
                         [(log, "settled", "no2_oil")])
        self.assertEqual(self.rows("SELECT words FROM particular WHERE name = 'customer'"),
                         [("A. Invented",)])
        # What settle prints, in kelvin and with k = 1.
        settled = list(csv.DictReader(io.StringIO(run("settle", "--csv", log=log).stdout.decode())))
        kept = self.rows("SELECT mean, u FROM measured WHERE channel = 'stack_temp'"
                         " ORDER BY reading")
        for row, (mean, u) in zip(settled, kept, strict=True):
            self.assertAlmostEqual(float(row["stack_temp_degF"]), mean * 1.8 - 459.67, delta=0.006)
            self.assertAlmostEqual(float(row["stack_temp_degF_u"]), 2 * u * 1.8, delta=0.006)

    def test_the_same_log_is_the_same_test(self):
        path = self.file("a.csv", small_log(1))
        self.keep(path, *ABOUT)
        again = self.keep(path, *ABOUT)
        self.assertIn("is there already as test 1", again.stdout.decode())
        self.keep(path, "--date", "2025-11-02", "--customer", "B. Invented", "--replace")
        self.assertEqual(self.rows("SELECT words FROM particular WHERE name = 'customer'"),
                         [("B. Invented",)])
        other = self.keep(path, *ABOUT, "--fuel", "b20")
        self.assertIn("kept as test 2", other.stdout.decode())
        self.assertIn("the same log is also test 1", other.stdout.decode())
        self.assertEqual(self.rows("SELECT settings FROM test WHERE number = 2"),
                         [('fuel = "b20"\n',)])
        # said in a file it is the same again
        settings = self.file("s.toml", 'fuel = "b20"\n')
        self.assertIn("already as test 2",
                      self.keep(path, *ABOUT, "--settings", settings).stdout.decode())

    def test_kept_settings_are_a_settings_file(self):
        criterion = self.file("own.toml", '[criterion]\nstack_temp = "2 degF/min"\n'
                                          'windows = ["2 min", "3 min"]\n')
        path = self.file("a.csv", small_log(1).replace("stack_temp_degF", 'Flue "T"'))
        words = ("--column", 'Flue "T"=stack_temp:degF', "--criterion", criterion, "--require",
                 "stack_temp,o2", "--humidity", "40%")
        self.keep(path, *ABOUT, *words)
        (text,), = self.rows("SELECT settings FROM test")
        again = self.file("again.toml", text)
        self.assertIn("already as test 1",
                      self.keep(path, *ABOUT, "--settings", again).stdout.decode())
        self.assertEqual(run("settle", "--settings", again, "--csv", path).stdout,
                         run("settle", *words, "--csv", path).stdout)

    def test_particulars_come_from_a_file_too(self):
        file = self.file("about.toml", '[particulars]\ncustomer = "A. Invented"\n'
                                       'nozzle = "0.85 80 B"\ndate = "2025-11-02"\n')
        path = self.file("a.csv", small_log(1))
        done = self.keep(path, "--particulars", file, "--customer", "B. Invented")
        self.assertIn("kept as test 1: 2025-11-02", done.stdout.decode())
        self.assertEqual(self.rows("SELECT name, words FROM particular ORDER BY name"),
                         [("customer", "B. Invented"), ("date", "2025-11-02"),
                          ("nozzle", "0.85 80 B")])
        # who and where are not how it was judged
        self.assertIn("already as test 1", self.keep(path, *ABOUT).stdout.decode())

    def test_a_log_without_dates_asks_for_the_day(self):
        path = self.file("a.csv", small_log(1))
        done = self.keep(path, status=2)
        self.assertIn("when was it? The log has no dates; say --date", done.stderr.decode())
        dated = self.file("b.csv", steady_log(200, start_s=1_762_041_600))  # 2025-11-02 00:00 UTC
        self.assertIn("2025-11-02", self.keep(dated).stdout.decode())
        done = self.keep(path, "--date", "2.11.2025", status=2)
        self.assertIn("is no day; write it as 2026-11-25", done.stderr.decode())

    def test_what_did_not_settle_is_kept_and_said(self):
        path = self.file("a.csv", small_log(1)[:400])
        done = self.keep(path, *ABOUT, status=1)
        self.assertIn("nothing settled", done.stdout.decode())
        self.assertEqual(self.rows("SELECT outcome FROM test"), [("never_settled",)])

    def test_hostile_names_are_names(self):
        names = ["'; DROP TABLE test; --", 'a "quoted"\nsecond line', "Ünal Ødegård 北京",
                 "\x1b[31mred", "=1+1", "%s%n", "' OR '1'='1"]
        for number, name in enumerate(names):
            self.keep("-", "--date", "2025-11-02", "--customer", name, log=small_log(number))
        kept = self.rows("SELECT words FROM particular WHERE name = 'customer' ORDER BY test")
        self.assertEqual([k[0] for k in kept], names)
        for number, name in enumerate(names, 1):
            done = run("past", self.db, "--customer", name, "--csv")
            self.assert_status(done, 0)
            self.assertNotIn(b"\x1b", done.stdout)
            rows = done.stdout.decode().splitlines()
            self.assertTrue(rows[1].startswith(f"{number},2025-11-02,"), rows)
            self.assertEqual(len(rows), 2)


class WhatStandsInTheWay(Kept):
    def test_something_else(self):
        log = self.file("a.csv", small_log(1))
        self.db.write_text("time_s,stack_temp_degF\n0,450\n" * 50)
        before = self.db.read_bytes()
        for words in (("keep", self.db, log, *ABOUT), ("past", self.db)):
            done = run(*words)
            self.assert_status(done, 2)
            self.assertIn("this is no database", done.stderr.decode())
        self.assertEqual(self.db.read_bytes(), before)
        self.db.unlink()
        with sqlite3.connect(self.db) as d:
            d.execute("CREATE TABLE song (title)")
        before = self.db.read_bytes()
        done = self.keep(log, *ABOUT, status=2)
        self.assertIn("a database of something else", done.stderr.decode())
        self.assertEqual(self.db.read_bytes(), before)

    def test_a_newer_schema(self):
        log = self.file("a.csv", small_log(1))
        self.keep(log, *ABOUT)
        with sqlite3.connect(self.db) as d:
            d.execute("PRAGMA user_version = 7")
        for words in (("keep", self.db, log, *ABOUT), ("past", self.db)):
            done = run(*words)
            self.assert_status(done, 2)
            self.assertIn("newer stilling (schema 7, this one knows 1)", done.stderr.decode())

    def test_a_damaged_file(self):
        for number in range(8):
            self.keep("-", *ABOUT, log=small_log(number))
        whole = self.db.read_bytes()
        dice = random.Random(5)
        told = 0
        for _ in range(25):
            damaged = bytearray(whole)
            at = dice.randrange(0, len(whole) - 4096)
            damaged[at:at + 3000] = dice.randbytes(3000)
            self.db.write_bytes(damaged)
            done = run("past", self.db)
            self.assertIn(done.returncode, (0, 2), done.stderr)  # never a crash
            told += done.returncode == 2
            if done.returncode == 2:
                self.assertTrue(done.stderr.startswith(b"stilling: "), done.stderr)
        self.assertGreater(told, 5)
        self.db.write_bytes(whole[:len(whole) // 2])
        done = run("past", self.db)
        self.assert_status(done, 2)
        self.assertIn("damaged", done.stderr.decode())

    def test_a_file_that_may_only_be_read(self):
        self.keep("-", *ABOUT, log=small_log(1))
        log = self.file("b.csv", small_log(2))
        self.db.chmod(0o444)
        self.folder.chmod(0o555)
        self.addCleanup(self.folder.chmod, 0o755)
        as_nobody = {"user": 65534} if os.geteuid() == 0 else {}
        if as_nobody and not os.access(self.folder.parent, os.X_OK):
            self.skipTest("nobody but root gets here")
        done = run("past", self.db, **as_nobody)
        self.assert_status(done, 0)
        self.assertIn("1 test of 1 appliance", done.stdout.decode())
        done = run("keep", self.db, log, *ABOUT, **as_nobody)
        self.assert_status(done, 2)
        self.assertIn("may only be read", done.stderr.decode())

    def test_a_full_disk(self):
        self.keep("-", *ABOUT, log=small_log(1))
        size = self.db.stat().st_size
        log = self.file("b.csv", simulated())

        def little_room():
            resource.setrlimit(resource.RLIMIT_FSIZE, (size + 8192, size + 8192))

        done = run("keep", self.db, log, *ABOUT, preexec_fn=little_room)
        self.assert_status(done, 2)
        self.assertIn("no room is left", done.stderr.decode())
        self.assertEqual(done.stdout, b"")
        self.assertEqual(self.rows("SELECT number FROM test"), [(1,)])
        self.assertEqual(self.rows("PRAGMA integrity_check"), [("ok",)])
        self.keep(log, *ABOUT)

    def test_no_such_file_and_no_such_folder(self):
        done = run("past", self.db)
        self.assert_status(done, 2)
        self.assertIn("cannot be opened", done.stderr.decode())
        self.assertFalse(self.db.exists())
        done = run("keep", self.folder / "none" / "t.db", self.file("a.csv", small_log(1)), *ABOUT)
        self.assert_status(done, 2)
        self.assertIn("No such file", done.stderr.decode())

    def test_a_log_that_cannot_be_read_costs_no_other(self):
        good = self.file("a.csv", small_log(1))
        bad = self.file("b.csv", "this is no log\n1,2\n")
        done = self.keep(bad, self.folder / "missing.csv", good, *ABOUT, status=2)
        self.assertIn("kept as test 1", done.stdout.decode())
        self.assertIn("b.csv is not kept", done.stderr.decode())
        self.assertIn("missing.csv is not kept", done.stderr.decode())


class Together(Kept):
    def test_two_writers_and_a_reader(self):
        groups = [[self.file(f"{who}{i}.csv", small_log(100 * who + i)) for i in range(8)]
                  for who in range(3)]
        writers = [start("keep", self.db, *files, *ABOUT) for files in groups]
        while any(w.poll() is None for w in writers):
            done = run("past", self.db)
            self.assertIn(done.returncode, (0, 2))
            if done.returncode == 2:
                self.assertIn("cannot be opened", done.stderr.decode())  # not there yet
        for w in writers:
            out, said = w.communicate()
            self.assertEqual(w.returncode, 0, said)
            self.assertEqual(out.decode().count(" is kept as test "), 8)
        self.assertEqual(self.rows("SELECT count(*), count(DISTINCT number) FROM test"),
                         [(24, 24)])

    def test_a_reader_that_lingers_holds_nobody_up(self):
        for number in range(30):
            self.keep("-", *ABOUT, log=small_log(number))
        reader = start("past", self.db, "--json")  # more than a pipe holds
        reader.stdout.read(1)
        self.keep("-", *ABOUT, log=small_log(31))
        self.assertIsNone(reader.poll())
        reader.stdout.read()
        reader.communicate()


class Killed(Kept):
    def test_what_was_reported_kept_is_there(self):
        dice = random.Random(20261125)
        files = [self.file(f"{i}.csv", small_log(i)) for i in range(12)]
        began = time.monotonic()
        self.keep(*files, *ABOUT)
        whole = time.monotonic() - began
        self.db.unlink()
        logs = {f.read_bytes() for f in files}
        reported, killed_in_work, journals, were_kept = set(), 0, 0, 0
        for _ in range(KILLS):
            if len(reported) == len(files):  # all are there: from the beginning
                self.db.unlink()
                reported = set()
            before = reported
            rest = [f for f in files if f.name not in reported]
            writer = subprocess.Popen([STILLING, "keep", self.db, *rest, *ABOUT],
                                      stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                      env=ENVIRONMENT)
            time.sleep(dice.uniform(0, whole * len(rest) / len(files)))
            writer.send_signal(signal.SIGKILL)
            out, said = writer.communicate()
            self.assertIn(writer.returncode, (0, -signal.SIGKILL), said)
            killed_in_work += writer.returncode != 0
            whole *= 1.05 if writer.returncode != 0 else 0.7  # machines have their moments
            journals += (self.folder / "tests.db-journal").exists()
            for line in out.decode().splitlines():
                name, _, what = line.partition(" is kept as test ")
                if what:
                    reported = reported | {name.rsplit("/", 1)[-1]}
            if not self.db.exists():
                self.assertEqual(reported, set())
                continue
            done = run("past", self.db, "--json")  # also undoes what was half done
            self.assert_status(done, 0)
            there = {row[0] for row in self.rows("SELECT file FROM test")} if done.stdout.count(
                b'"test"') else set()
            self.assertLessEqual(reported, there)
            self.assertEqual(done.stdout.count(b'"identity"'), len(there))
            if there:
                self.assertEqual(self.rows("PRAGMA integrity_check"), [("ok",)])
                self.assertEqual(self.rows("PRAGMA foreign_key_check"), [])
                self.assertEqual(self.rows("SELECT count(*) FROM test WHERE number NOT IN"
                                           " (SELECT test FROM measured)"), [(0,)])
                self.assertLessEqual({row[0] for row in self.rows("SELECT log FROM test")}, logs)
            reported = there
            were_kept += len(there - before)
        print(f"\n{KILLS} kills, {killed_in_work} of them in time, {journals} left a journal, "
              f"{were_kept} tests kept on the way")
        self.assertGreater(killed_in_work, KILLS // 4)
        self.assertGreater(were_kept, 0)


if __name__ == "__main__":
    main()
