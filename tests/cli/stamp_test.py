# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Rows without a time: stamped as they arrive, recorded, replayed."""

import time

from command import CommandTest, main, of_kind, run, start, steady_log

ROWS = b"450,5.0,20\r\n451,5.1,20\r\n# adjusted air\r\n450,5.0,20\r\n"


class Stamp(CommandTest):
    def test_stamps_are_unix_time_of_arrival(self):
        before = time.time()
        process = start("look", "frames", "--stamp", "--fields", "stack_temp_degF,o2_pct,co_ppm",
                        bufsize=0)
        process.stdin.write(b"450,5.0,20\n")
        time.sleep(0.3)
        out, complaints = process.communicate(b"451,5.1,20\n", timeout=60)
        after = time.time()
        self.assertEqual(complaints, b"")
        header, *rows = out.decode().splitlines()
        self.assertTrue(header.startswith("time_s,line,stack_temp_degF,o2_pct,co_ppm"))
        first, second = (float(r.split(",")[0]) for r in rows)
        self.assertLess(before - 1, first)
        self.assertLess(second, after + 1)
        self.assertGreater(second - first, 0.25)

    def test_a_replay_of_the_record_gives_the_same_bytes(self):
        for words, head in ((["--fields", "stack_temp_degF,o2_pct,co_ppm"], b""),
                            ([], b"stack_temp_degF,o2_pct,co_ppm\n"),
                            ([], b"stack_temp_degF;o2_pct;co_ppm\n")):
            rows = ROWS.replace(b",", b";") if b";" in head else ROWS
            for form in ("--jsonl", "--verbose"):
                with self.subTest(head=head, form=form):
                    record = self.folder / f"record{len(list(self.folder.iterdir()))}.csv"
                    live = run("settle", form, "--stamp", *words, "--record", record,
                               log=head + rows)
                    again = run("settle", form, record)
                    self.assertEqual(live.stdout, again.stdout)
                    self.assertEqual(live.returncode, again.returncode)
                    self.assertIn(b"adjusted air", record.read_bytes())

    def test_labelled_rows_get_a_labelled_time(self):
        labels = ["--labels", "T=stack_temp:degF,O2=o2:pct,CO=co:ppm"]
        record = self.folder / "record.txt"
        live = run("settle", "--jsonl", "--stamp", *labels, "--record", record,
                   log="T=450F O2=5.0% CO=20ppm\nT=451F O2=5.1% CO=20ppm\n")
        self.assertEqual(of_kind(live.stdout, "end")[0]["frames"], 2)
        self.assertEqual(run("settle", "--jsonl", *labels, record).stdout, live.stdout)

    def test_silence_is_noticed_while_it_lasts(self):
        # The gap is a minute by default; here it is enough that waiting ends nothing.
        process = start("settle", "--jsonl", "--stamp", "--fields", "stack_temp_degF,o2_pct,co_ppm",
                        bufsize=0)
        process.stdin.write(b"450,5.0,20\n")
        time.sleep(1.3)
        out, _ = process.communicate(b"451,5.1,20\n", timeout=60)
        self.assertEqual(of_kind(out, "end")[0]["frames"], 2)

    def test_a_log_with_times_needs_no_stamps(self):
        done = run("settle", "--stamp", log=steady_log())
        self.assert_status(done, 2)
        self.assertIn(b"times of its own", done.stderr)

    def test_record_takes_down_what_was_read_also_without_stamps(self):
        record = self.folder / "record.csv"
        run("settle", "--record", record, log=steady_log())
        self.assertEqual(record.read_text(), steady_log())

    def test_nothing_recorded_earlier_is_overwritten(self):
        record = self.file("record.csv", "an hour of work\n")
        done = run("settle", "--record", record, log=steady_log())
        self.assert_status(done, 2)
        self.assertIn(b"File exists", done.stderr)
        self.assertEqual(record.read_text(), "an hour of work\n")


if __name__ == "__main__":
    main()
