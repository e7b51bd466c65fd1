# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Exit status, and which words go where."""

import subprocess

from command import HEADER, STILLING, CommandTest, main, of_kind, run, simulated, steady_log


class Status(CommandTest):
    def test_something_settled_is_0(self):
        done = run("settle", log=simulated())
        self.assert_status(done, 0)
        self.assertEqual(done.stderr, b"")

    def test_nothing_settled_is_1(self):
        idle = steady_log(rows="{t},70,68,20.{o2},0").replace("20.0", "20.9")
        done = run("settle", "--jsonl", log=idle)
        self.assert_status(done, 1)
        self.assertEqual(of_kind(done.stdout, "end")[0]["outcome"], "idle")

    def test_smallest_logs(self):
        for log, rows in ((b"", 0), (HEADER + "\n", 0), (HEADER, 0),
                          (HEADER + "\n0,450,68,5,20\n", 1)):
            with self.subTest(log=log):
                done = run("settle", "--jsonl", log=log)
                self.assert_status(done, 1)
                end = of_kind(done.stdout, "end")[0]
                self.assertEqual((end["rows"], end["frames"], end["plateaus"]), (rows, rows, 0))
                self.assertEqual(end["outcome"], "never_settled" if rows else "no_data")
                self.assert_status(run("settle", log=log), 1)
                self.assert_status(run("settle", "--csv", log=log), 1)

    def test_short_cycling_says_so(self):
        log = HEADER + "\n"
        for t in range(0, 1800, 10):
            lit = t % 360 >= 180
            stack, oxygen = (300 + t % 180, 6) if lit else (200 - (t % 180) // 2, 20.9)
            log += f"{t},{stack},68,{oxygen},20\n"
        done = run("settle", "--jsonl", log=log)
        self.assert_status(done, 1)
        end = of_kind(done.stdout, "end")[0]
        self.assertEqual(end["outcome"], "cycling")
        self.assertEqual(len(end["burns"]), 5)

    def test_wrong_words_are_2_and_say_what_to_do(self):
        for words, said in ((["settel"], "no verb is called 'settel'"),
                            (["settle", "--nope"], "--nope"),
                            (["settle", "--fuel", "coal"], "no2_oil"),
                            (["settle", "--require", "soot"], "list channels"),
                            (["settle", "--air-temp", "70"], "70degF"),
                            (["settle", "--barometer", "12hPa"], "absolute pressure"),
                            (["settle", "--interval", "0s"], "above 0"),
                            (["settle", "--show", "psi"], "list channels"),
                            (["settle", "--jobs", "0"], "1 to 1024"),
                            (["settle", "--jsonl", "--csv"], "--csv"),
                            (["settle", "--stamp", "--interval", "1s"], "--stamp"),
                            (["look", "rows"], "verdicts"),
                            (["list", "burners"], "channels"),
                            (["simulate", "no_such_test"], "--list"),
                            (["simulate"], "--list")):
            with self.subTest(words=words):
                done = run(*words)
                self.assert_status(done, 2)
                self.assertEqual(done.stdout, b"")
                self.assertIn(said, done.stderr.decode())
                self.assertTrue(done.stderr.startswith(b"stilling: "))

    def test_no_words_at_all_show_the_way(self):
        done = run()
        self.assert_status(done, 2)
        self.assertIn(b"stilling simulate first_visit", done.stderr)

    def test_a_file_that_is_not_there_is_2(self):
        done = run("settle", self.folder / "none.csv")
        self.assert_status(done, 2)
        self.assertIn(b"none.csv: No such file", done.stderr)

    def test_a_folder_is_no_log(self):
        done = run("settle", self.folder)
        self.assert_status(done, 2)
        self.assertIn(b"Is a directory", done.stderr)

    def test_input_without_a_header_is_2_and_shows_one(self):
        done = run("settle", "--jsonl", log="1,450,68\n2,450,68\n")
        self.assert_status(done, 2)
        self.assertIn(b"time_s,stack_temp_degF", done.stderr)
        self.assertIn(b"--fields", done.stderr)
        self.assertEqual(of_kind(done.stdout, "end")[0]["outcome"], "no_data")

    def test_rows_none_of_which_can_be_read_are_2(self):
        done = run("settle", log=HEADER + "\nx,450,68,5,20\ny,450,68,5,20\n")
        self.assert_status(done, 2)
        self.assertIn(b"line 2, field 1, 'x'", done.stderr)

    def test_a_channel_asked_for_that_the_log_lacks_is_2(self):
        done = run("settle", "--require", "stack_temp,co2", log=steady_log())
        self.assert_status(done, 2)
        self.assertIn(b"co2", done.stderr)

    def test_no_room_for_the_answer_is_2(self):
        with open("/dev/full", "wb") as full:
            done = subprocess.run([STILLING, "list", "channels"], stdout=full,
                                  stderr=subprocess.PIPE, timeout=60)
        self.assertEqual(done.returncode, 2)
        self.assertIn(b"standard output", done.stderr)

    def test_rejected_lines_are_told_on_standard_error(self):
        log = steady_log().replace("\n100,451,", "\n100,4x0,")
        done = run("settle", log=log)
        self.assert_status(done, 0)
        self.assertIn(b"1 of 300 lines", done.stderr)
        self.assertIn(b"line 102, field 2, '4x0'", done.stderr)
        self.assertNotIn(b"4x0", done.stdout)
        self.assert_status(run("settle", "--fail-on-rejection", log=log), 2)
        self.assert_status(run("settle", "--fail-on-rejection", log=steady_log()), 0)


if __name__ == "__main__":
    main()
