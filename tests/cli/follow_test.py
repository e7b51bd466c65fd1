# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A log that grows while it is read: rotated, emptied, not there yet."""

import os
import signal
from pathlib import Path

from command import CommandTest, events, main, of_kind, run, simulated, steady_log
from live import Running, wait_for_content

CASES = Path(__file__).parent.parent / "cases"
BEFORE = (CASES / "047a-before-rotation.csv").read_bytes()
AFTER = (CASES / "047b-after-rotation.csv").read_bytes()


class FollowTest(CommandTest):
    def running(self, *words):
        process = Running(*words)
        self.addCleanup(process.stop)
        return process

    def followed(self, path):
        return self.running("look", "frames", "--follow", path)

    def times(self, look):
        return [int(row.split(b",")[0]) for row in look.out.splitlines()[1:]]

    def append(self, path, content):
        with path.open("ab") as file:
            file.write(content)


class Growing(FollowTest):
    def test_each_row_is_answered_as_it_is_written(self):
        path = self.folder / "log.csv"
        look = self.followed(path)
        look.wait_for_complaint(b"waiting for it")
        lines = BEFORE.splitlines(keepends=True)
        for i, line in enumerate(lines):
            self.append(path, line[:9])
            self.append(path, line[9:])
            look.wait_for_lines(i + 1)
        self.assertEqual(look.finish(signal.SIGINT), 0, look.complaints)
        self.assertEqual(self.times(look), list(range(30)))

    def test_a_wish_to_stop_gets_a_last_word(self):
        path = self.file("log.csv", steady_log(200))
        for wish in (signal.SIGINT, signal.SIGTERM):
            settle = self.running("settle", "--jsonl", "--follow", path)
            settle.wait_for(b'"plateau"')
            self.assertEqual(settle.finish(wish), 0, settle.complaints)
            said = events(settle.out)
            self.assertEqual((said[-1]["event"], said[-1]["frames"]), ("end", 200))

    def test_the_same_rows_give_the_same_events_as_read_whole(self):
        log = simulated()
        path = self.file("log.csv", log[:len(log) // 3])
        settle = self.running("settle", "--jsonl", "--follow", path)
        settle.wait_for(b'"begin"')
        self.append(path, log[len(log) // 3:])
        whole = run("settle", "--jsonl", log=log).stdout
        settle.wait_for(whole.splitlines()[-3])
        settle.finish(signal.SIGINT)
        self.assertEqual(bytes(settle.out), whole)


class Rotated(FollowTest):
    def check_sixty(self, look):
        look.wait_for_lines(61)
        self.assertEqual(look.finish(signal.SIGINT), 0)
        self.assertEqual(self.times(look), list(range(60)))
        self.assertEqual(look.complaints.count(b"\n"), 1, look.complaints)

    def test_renamed_with_a_new_one_in_its_place(self):
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        path.rename(self.folder / "log.csv.1")
        path.write_bytes(AFTER)
        self.check_sixty(look)

    def test_renamed_before_its_end_was_read(self):
        # The writer goes on in the old one until it has opened the new.
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        old = self.folder / "log.csv.1"
        path.rename(old)
        path.touch()
        lines = AFTER.splitlines(keepends=True)
        for i, line in enumerate(lines[:10]):
            self.append(old, line)
            look.wait_for_lines(32 + i)
        path.write_bytes(b"".join(lines[10:]))
        self.check_sixty(look)

    def test_both_at_once(self):
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        lines = AFTER.splitlines(keepends=True)
        self.append(path, b"".join(lines[:10]))
        new = self.file("new", b"".join(lines[10:]))
        path.rename(self.folder / "log.csv.1")
        new.rename(path)
        self.check_sixty(look)

    def test_emptied_where_it_stands(self):
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        with path.open("r+b") as file:
            file.truncate()
            file.write(AFTER)
        self.check_sixty(look)

    def test_emptied_and_grown_beyond_where_we_were(self):
        path = self.file("log.csv", b"".join(BEFORE.splitlines(keepends=True)[:11]))
        look = self.followed(path)
        look.wait_for_lines(11)
        rest = BEFORE.splitlines(keepends=True)[11:]
        with path.open("r+b") as file:
            file.truncate()
            file.write(b"".join(rest) + AFTER)
        self.check_sixty(look)

    def test_the_header_comes_again(self):
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        path.rename(self.folder / "log.csv.1")
        path.write_bytes(BEFORE.splitlines(keepends=True)[0] + AFTER)
        self.check_sixty(look)

    def test_many_times(self):
        path = self.file("log.csv", BEFORE)
        look = self.followed(path)
        look.wait_for_lines(31)
        for turn, row in enumerate(AFTER.splitlines(keepends=True)):
            if turn % 2:
                path.rename(self.folder / f"log.csv.{turn}")
                path.write_bytes(row)
            else:
                with path.open("r+b") as file:
                    file.truncate()
                    file.write(row)
            look.wait_for_lines(32 + turn)
        self.check_sixty(look)

    def test_a_line_torn_by_it_is_not_joined_to_the_next_one(self):
        for emptied in (False, True):
            with self.subTest(emptied=emptied):
                path = self.file("log.csv", BEFORE + b"30,412.2,6")
                record = self.folder / f"record{emptied}.csv"
                settle = self.running("settle", "--jsonl", "--follow", "--record", record, path)
                settle.wait_for(b'"begin"')
                wait_for_content(record, b"\n30,412.2,6")
                if emptied:
                    os.truncate(path, 0)
                else:
                    path.rename(self.folder / "log.csv.1")
                self.append(path, AFTER)
                wait_for_content(record, AFTER[-40:])
                settle.finish(signal.SIGINT)
                end = of_kind(settle.out, "end")[0]
                self.assertEqual((end["frames"], end["rejected"]), (60, {"incomplete": 1}))
                self.assertNotIn(b'"break"', settle.out)
                self.assertEqual(run("settle", "--jsonl", record).stdout, bytes(settle.out))


class Refused(FollowTest):
    def test_what_cannot_be_followed(self):
        fifo = self.folder / "fifo"
        os.mkfifo(fifo)
        log = self.file("log.csv", BEFORE)
        for words, said in ((["--follow"], b"which file"), (["--follow", "-"], b"which file"),
                            (["--follow", self.folder], b"it is no file"),
                            (["--follow", fifo], b"it is no file"),
                            (["--follow", log, "--stamp"], b"--stamp")):
            with self.subTest(words=words):
                done = run("look", "frames", *words)
                self.assert_status(done, 2)
                self.assertIn(said, done.stderr)
        done = run("settle", "--follow", log, log)
        self.assert_status(done, 2)
        done = run("settle", "--follow", log, "--out", self.folder / "out")
        self.assert_status(done, 2)

    def test_waiting_ends_by_a_wish(self):
        settle = self.running("settle", "--jsonl", "--follow", self.folder / "log.csv")
        settle.wait_for_complaint(b"waiting for it")
        self.assertEqual(settle.finish(signal.SIGTERM), 1)
        self.assertEqual(events(settle.out)[-1]["outcome"], "no_data")


if __name__ == "__main__":
    main()
