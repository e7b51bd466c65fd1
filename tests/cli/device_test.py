# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""An instrument on a serial line: answered row by row, lost, found again, recorded."""

import os
import re
import signal
import subprocess
import termios
import time
import unittest

from command import (HEADER, STILLING, CommandTest, events, main, of_kind, run, simulated,
                     steady_log)
from live import Running, SerialLine, wait_for_content

NAMES = ["--fields", "stack_temp_degF,o2_pct,co_ppm"]


def rows(count, stack=450):
    """Without times; the display dithers."""
    return "".join(f"{stack + (i * 7 // 3) % 2},5.{i % 2},20\r\n" for i in range(count))


class DeviceTest(CommandTest):
    def line(self):
        line = SerialLine()
        self.addCleanup(line.pull)
        return line

    def running(self, *words, **more):
        process = Running(*words, **more)
        self.addCleanup(process.stop)
        return process

    def link_to(self, line):
        """The name under which the device comes back."""
        name = self.folder / "instrument"
        if name.is_symlink():
            name.unlink()
        name.symlink_to(line.name)
        return name


class Lines(DeviceTest):
    def test_each_row_is_answered_before_the_next_one_comes(self):
        line = self.line()
        look = self.running("look", "verdicts", "--device", line.name)
        line.send(HEADER + "\n")
        look.wait_for_lines(1)
        for t, row in enumerate(steady_log(40).splitlines()[1:]):
            line.send(row + "\n")
            look.wait_for_lines(t + 2)
        self.assertEqual(look.finish(signal.SIGINT), 0, look.complaints)
        said = [row.split(b",")[0] for row in look.out.splitlines()[1:]]
        self.assertEqual(said, [str(t).encode() for t in range(40)])

    def test_a_thousand_rows_a_second_are_answered_once_each(self):
        line = self.line()
        look = self.running("look", "verdicts", "--device", line.name)
        line.send(HEADER + "\n")
        begun = time.monotonic()
        for i in range(2000):
            if (ahead := begun + i / 1000 - time.monotonic()) > 0:
                time.sleep(ahead)
            line.send(f"{i / 1000:.3f},450,68,5.{i % 2},20\n")
        look.wait_for_lines(2001)
        self.assertEqual(look.finish(signal.SIGTERM), 0, look.complaints)
        said = [row.split(b",")[1] for row in look.out.splitlines()[1:]]
        self.assertEqual(said, [str(i + 2).encode() for i in range(2000)])

    def test_a_wish_to_stop_gets_a_last_word(self):
        for wish in (signal.SIGINT, signal.SIGTERM):
            with self.subTest(wish=wish):
                line = self.line()
                settle = self.running("settle", "--jsonl", "--device", line.name)
                line.send(steady_log(200))
                settle.wait_for(b'"plateau"')
                self.assertEqual(settle.finish(wish), 0, settle.complaints)
                said = events(settle.out)
                self.assertEqual(said[-1]["event"], "end")
                self.assertEqual(said[-2]["end_reason"], "end_of_log")
                line.pull()

    def test_the_same_rows_give_the_same_events_as_from_a_file(self):
        log = simulated()
        line = self.line()
        settle = self.running("settle", "--jsonl", "--device", line.name)
        line.send(log + b"99999,")  # its answer to the last row is out when this one begins
        settle.wait_for(b'"begin"')
        last = run("settle", "--jsonl", log=log).stdout
        known = last.splitlines(keepends=True)[:-2]
        settle.wait_for(known[-1])
        settle.finish(signal.SIGINT)
        self.assertTrue(settle.out.startswith(b"".join(known)))


class Times(DeviceTest):
    def test_rows_without_a_time_are_stamped_as_they_arrive_and_it_is_said(self):
        for words, head, row in (
                (NAMES, "", "450,5.0,20\r\n"),
                ([], "stack_temp_degF;o2_pct;co_ppm\r\n", "450;5,0;20\r\n"),
                ([], "stack_temp,o2,co\r\ndegF,%,ppm\r\n", "450,5.0,20\r\n"),
                (["--labels", "T=stack_temp:degF,O2=o2:pct,CO=co:ppm"], "",
                 "T=450F O2=5.0% CO=20ppm\r\n")):
            with self.subTest(head=head or words):
                line = self.line()
                before = time.time()
                look = self.running("look", "frames", "--device", line.name, *words)
                line.send(head + row)
                look.wait_for_lines(2)
                look.finish(signal.SIGINT)
                line.pull()
                self.assertRegex(look.complaints, rb"stamped as they arrive")
                stamp, _, *values = look.out.splitlines()[1].split(b",")
                self.assertLess(abs(float(stamp) - before), 60)
                self.assertEqual(values[:3], [b"450", b"5", b"20"])

    def test_times_of_its_own_stand(self):
        line = self.line()
        look = self.running("look", "frames", "--device", line.name)
        line.send("time_s,o2_pct\n12.5,5.0\n")
        look.wait_for(b"\n12.5,2,5,")
        look.finish(signal.SIGINT)

    def test_a_given_spacing_stands(self):
        line = self.line()
        look = self.running("look", "frames", "--device", line.name, "--interval", "2s", *NAMES)
        line.send(rows(2))
        look.wait_for_lines(3)
        look.finish(signal.SIGINT)
        self.assertEqual([r.split(b",")[0] for r in look.out.splitlines()[1:]], [b"0", b"2"])


class Lost(DeviceTest):
    def test_a_pulled_cable_ends_the_log(self):
        for seconds, status in ((200, 0), (20, 1)):
            with self.subTest(seconds=seconds):
                line = self.line()
                settle = self.running("settle", "--jsonl", "--device", line.name, "--record",
                                      self.folder / f"{seconds}.csv")
                line.send(steady_log(seconds))
                record = self.folder / f"{seconds}.csv"
                wait_for_content(record, steady_log(seconds).encode()[-30:])
                line.pull()
                self.assertEqual(settle.finish(), status, settle.complaints)
                self.assertIn(b"the connection broke off", settle.complaints)
                last = events(settle.out)[-1]
                self.assertEqual((last["event"], last["frames"]), ("end", seconds))

    def lose_and_find(self, words, first, torn, joined, second):
        """`torn` is sent before the cable is pulled, the rest of that line never."""
        record = self.folder / f"record{len(list(self.folder.iterdir()))}.csv"
        line = self.line()
        settle = self.running("settle", "--jsonl", "--wait", "--device", self.link_to(line),
                              "--record", record, *words)
        line.send(first)
        settle.wait_for(b'"plateau"')
        line.send(torn)
        wait_for_content(record, first.splitlines()[-1].encode() + b"\n")
        time.sleep(0.1)  # what is not fetched when the line breaks off is gone, as on a real one
        line.pull()
        settle.wait_for_complaint(b"waiting for it")
        again = self.line()
        self.link_to(again)
        settle.wait_for_complaint(b"connected again")
        again.send(joined + second)
        settle.wait_for(b'"reconnect"')
        wait_for_content(record, second.splitlines()[-1].encode() + b"\n")
        self.assertEqual(settle.finish(signal.SIGINT), 0, settle.complaints)
        return settle, record

    def check_found(self, settle, record, words, before):
        said = events(settle.out)
        kinds = [e["event"] for e in said]
        self.assertEqual(kinds.count("break"), 1)
        here = kinds.index("break")
        self.assertEqual(said[here]["kind"], "reconnect")
        closed = [e for e in said[:here] if e["event"] == "plateau"][-1]
        self.assertEqual(closed["end_reason"], "break")
        self.assertLessEqual(closed["readings"]["stack_temp_degF"]["n"], before)
        # 450 before and 600 after: no mean of both.
        self.assertAlmostEqual(closed["readings"]["stack_temp_degF"]["value"], 450.5, delta=0.6)
        for e in said[here:]:
            if e["event"] == "plateau":
                self.assertAlmostEqual(e["readings"]["stack_temp_degF"]["value"], 600.5, delta=0.6)
        replayed = run("settle", "--jsonl", *words, record)
        self.assertEqual(replayed.stdout.decode(), settle.out.decode())
        return said[here:]

    def test_found_again_it_goes_on_behind_a_break(self):
        # Torn, the row says 2 ppm; what the instrument had sent said 20.
        second = steady_log(200, start_s=900, header=None,
                            rows="{t},{stack},68,5.{o2},20").replace(",45", ",60")
        settle, record = self.lose_and_find([], steady_log(200), "200,450,68,5.0,2",
                                            "9,600,68,5.0,20\n", second)
        after = self.check_found(settle, record, [], 201)
        end = after[-1]
        self.assertEqual(end["frames"], 400)
        self.assertIn(end["rejected"], ({"incomplete": 2}, {"incomplete": 1}))
        self.assertEqual(len([e for e in after if e["event"] == "plateau"]), 2)
        self.assertIn(b"\n# reconnect\n9,600,", record.read_bytes())

    def test_a_clock_that_begins_anew_is_no_second_break(self):
        settle, record = self.lose_and_find([], steady_log(200), "", "",
                                            HEADER + "\n" + steady_log(30, header=None).replace(
                                                ",45", ",60"))
        after = self.check_found(settle, record, [], 200)
        self.assertEqual(after[-1]["frames"], 230)
        self.assertEqual(after[-1]["rejected"], {})

    def test_stamped_rows_replay_to_the_same_bytes(self):
        # Stamps are microseconds apart here, so nothing settles; the break is what counts.
        record = self.folder / "record.csv"
        line = self.line()
        settle = self.running("settle", "--jsonl", "--wait", "--device", self.link_to(line),
                              "--record", record, *NAMES)
        line.send(rows(50) + "450,5.0,2")
        settle.wait_for(b'"begin"')
        wait_for_content(record, rows(50).splitlines()[-1].encode() + b"\n")
        line.pull()
        again = self.line()
        self.link_to(again)
        settle.wait_for_complaint(b"connected again")
        again.send(",5.0,20\r\n" + rows(50, 600))
        settle.wait_for(b'"reconnect"')
        wait_for_content(record, rows(50, 600).splitlines()[-1].encode() + b"\n")
        self.assertEqual(settle.finish(signal.SIGINT), 1, settle.complaints)
        self.assertEqual(run("settle", "--jsonl", record).stdout, bytes(settle.out))
        end = of_kind(settle.out, "end")[0]
        self.assertEqual(end["frames"], 100)
        self.assertIn(end["rejected"]["incomplete"], (1, 2))
        self.assertIsNotNone(re.search(rb"\n# \d+\.\d{6} reconnect\n", record.read_bytes()))

    def test_it_may_come_later_than_we_do(self):
        name = self.folder / "instrument"
        look = self.running("look", "frames", "--wait", "--device", name)
        look.wait_for_complaint(b"waiting for it")
        line = self.line()
        self.link_to(line)
        look.wait_for_complaint(b"reading at 9600 baud")
        line.send("time_s,o2_pct\n1,5.0\n")
        look.wait_for_lines(2)
        self.assertEqual(look.finish(signal.SIGINT), 0)
        self.assertNotIn(b"incomplete", look.complaints)

    def test_it_is_waited_for_no_longer_than_asked(self):
        line = self.line()
        settle = self.running("settle", "--jsonl", "--wait", "100ms", "--device",
                              self.link_to(line))
        line.send(steady_log(30))
        settle.wait_for_complaint(b"reading")
        settle.wait_for(b'"begin"')
        line.pull()
        self.assertEqual(settle.finish(), 1)
        self.assertIn(b"given up: there is no such device", settle.complaints)
        self.assertEqual(events(settle.out)[-1]["event"], "end")
        done = run("look", "frames", "--wait", "100ms", "--device", self.folder / "instrument2")
        self.assert_status(done, 2)

    def test_waiting_ends_by_a_wish(self):
        look = self.running("settle", "--jsonl", "--wait", "--device", self.folder / "nothing")
        look.wait_for_complaint(b"waiting for it")
        self.assertEqual(look.finish(signal.SIGINT), 1)
        self.assertEqual(events(look.out)[-1]["outcome"], "no_data")


class Settings(DeviceTest):
    def test_the_line_is_set_as_asked(self):
        for words, speed, rate in (([], termios.B9600, b"9600 baud, 8N1"),
                                   (["--baud", "19200", "--framing", "7e1"], termios.B19200,
                                    b"19200 baud, 7E1"),
                                   (["--baud", "115200", "--framing", "8N2"], termios.B115200,
                                    b"115200 baud, 8N2")):
            with self.subTest(words=words):
                line = self.line()
                look = self.running("look", "frames", "--device", line.name, *words)
                look.wait_for_complaint(rate)
                iflag, _, cflag, lflag, _, got, _ = termios.tcgetattr(line.other_end)
                self.assertEqual(got, speed)
                self.assertEqual(bool(cflag & termios.CSTOPB), b"8N2" in rate)
                self.assertFalse(lflag & (termios.ECHO | termios.ICANON))
                self.assertFalse(iflag & (termios.IGNPAR | termios.PARMRK | termios.ICRNL),
                                 "a damaged byte must not vanish")
                look.finish(signal.SIGINT)
                line.pull()

    def test_a_settings_file_knows_the_line(self):
        settings = self.file("site.toml", '[device]\nbaud = 4800\nframing = "7O1"\n')
        line = self.line()
        look = self.running("look", "frames", "--settings", settings, "--device", line.name)
        look.wait_for_complaint(b"4800 baud, 7O1")
        look.finish(signal.SIGINT)

    def test_what_is_wrong_and_what_to_do_is_said(self):
        nothing = self.folder / "nothing"
        file = self.file("log.csv", steady_log())
        for words, said in (
                (["--device", nothing], b"there is no such device; is it plugged in"),
                (["--device", file], b"it is no serial device"),
                (["--device", self.folder], b"it is no serial device"),
                (["--device", nothing, "--baud", "12345"], b"12345 baud is no standard rate"),
                (["--device", nothing, "--baud", "fast"], b"--baud"),
                (["--device", nothing, "--framing", "9X1"], b"'9X1' is no framing"),
                (["--baud", "9600"], b"--baud requires --device"),
                (["--wait"], b"--wait requires --device"),
                (["--device", nothing, "--follow", file], b"--device"),
                (["--device", nothing, file], b"--device stands in place of"),
                (["--device", nothing, "--wait", "soon"], b"--wait")):
            with self.subTest(words=words):
                for verb in (["settle"], ["look", "frames"]):
                    done = run(*verb, *words)
                    self.assert_status(done, 2)
                    self.assertIn(said, done.stderr)
                    self.assertEqual(done.stdout, b"")

    def test_a_line_in_use_is_left_to_its_user(self):
        line = self.line()
        look = self.running("look", "frames", "--device", line.name)
        look.wait_for_complaint(b"reading")
        done = run("look", "frames", "--device", line.name)
        self.assert_status(done, 2)
        self.assertIn(b"another program is using it", done.stderr)
        look.finish(signal.SIGINT)

    @unittest.skipUnless(os.getuid() == 0, "only root can become somebody else")
    def test_who_may_not_read_it_is_told_which_group_may(self):
        line = self.line()
        os.chmod(line.name, 0o660)
        try:
            done = subprocess.run([STILLING, "look", "frames", "--device", line.name],
                                  capture_output=True, stdin=subprocess.DEVNULL, user=65534,
                                  group=65534, extra_groups=[], timeout=60)
        except PermissionError:
            self.skipTest("nobody may run the command where it was built")
        self.assertEqual(done.returncode, 2)
        self.assertRegex(done.stderr, rb"you may not read it.*\n *sudo usermod -aG \w+ \$USER")


if __name__ == "__main__":
    main()
