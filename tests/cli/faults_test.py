# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What goes wrong around a run, with real processes: no room, no right to write, a reader that goes
away, a process that is killed. It is said plainly, and nothing that was reported is lost."""

import contextlib
import os
import resource
import signal
import stat
import subprocess
import threading
import unittest

from command import STILLING, CommandTest, events, main, of_kind, run, simulated, start


def declared(out):
    return {e["declared_s"] for e in of_kind(out, "plateau")}


def close(end):
    """What it still holds for somebody who has gone is lost, and may be."""
    with contextlib.suppress(BrokenPipeError):
        end.close()


class FaultsTest(CommandTest):
    def fed(self, lines, **more):
        """A live run that records, has been given these lines and has told a plateau; and what it
        said up to there."""
        self.record = self.folder / "record.csv"
        live = start("settle", "--jsonl", "--record", self.record, **more)
        for end in (live.stdin, live.stdout, live.stderr):
            self.addCleanup(close, end)
        live.stdin.write(b"".join(lines))
        live.stdin.flush()
        said = b""
        for line in live.stdout:
            said += line
            if b'"plateau"' in line:
                break
        return live, said

    def give(self, live, lines):
        """As many of these as it takes; it may stop by itself."""
        try:
            for line in lines:
                live.stdin.write(line)
            live.stdin.close()
        except BrokenPipeError:
            pass

    def assert_told_again(self, out):
        """What was said stands in the record: read again, it says the same and perhaps more."""
        said = [e for e in events(out) if e["event"] != "end"]
        self.assertIn("plateau", [e["event"] for e in said])
        self.assertEqual(events(run("settle", "--jsonl", self.record).stdout)[:len(said)], said)


class NoRoom(FaultsTest):
    def test_every_verb_says_that_its_answer_found_none(self):
        log = self.file("test.csv", simulated())
        for words in (["settle", log], ["settle", "--jsonl", log], ["settle", "--csv", log],
                      ["report", log], ["report", "--html", log], ["check", log],
                      ["look", "frames", log], ["look", "verdicts", log], ["watch", log],
                      ["derive", "--fuel", "no2_oil", "--o2", "5", "--stack", "480degF"],
                      ["simulate", "first_visit"], ["list", "fuels"], ["--help"], ["--version"],
                      ["settle", "--help"]):
            with self.subTest(words=words), open("/dev/full", "wb") as full:
                done = subprocess.run([STILLING, *map(str, words)], stdin=subprocess.DEVNULL,
                                      stdout=full, stderr=subprocess.PIPE, timeout=60)
                self.assert_status(done, 2)
                self.assertIn(b"standard output: No space left on device", done.stderr)

    def test_a_record_that_may_not_grow_holds_all_that_was_reported(self):
        lines = simulated().splitlines(keepends=True)
        most = len(b"".join(lines[:950]))

        def little_room():
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

        live, said = self.fed(lines[:900], preexec_fn=little_room)
        self.give(live, lines[900:])
        rest = live.stdout.read()
        self.assertEqual(live.wait(60), 2)
        self.assertIn(b"the record cannot be written", live.stderr.read())
        self.assertLessEqual(self.record.stat().st_size, most)
        self.assert_told_again(said)
        again = run("settle", "--jsonl", self.record).stdout
        self.assertLessEqual(declared(rest), declared(again))


class OtherThanFiles(CommandTest):
    def test_what_is_no_file_is_written_to_and_stays(self):
        pipe = self.folder / "pipe"
        os.mkfifo(pipe)
        came = []
        reader = threading.Thread(target=lambda: came.append(pipe.read_bytes()))
        reader.start()
        done = run("simulate", "first_visit", "--seed", 7, "--out", pipe)
        self.assert_status(done, 0)
        reader.join(60)
        self.assertEqual(came, [simulated()])
        self.assertTrue(stat.S_ISFIFO(pipe.stat().st_mode))
        done = run("simulate", "first_visit", "--seed", 7, "--out", "/dev/stdout")
        self.assertEqual(done.stdout, simulated())

    @unittest.skipIf(os.geteuid() == 0, "root may write anywhere")
    def test_a_folder_that_may_only_be_read(self):
        self.folder.chmod(0o555)
        self.addCleanup(self.folder.chmod, 0o755)
        for words in (["simulate", "first_visit", "--out", self.folder / "a.csv"],
                      ["settle", "--record", self.folder / "b.csv", "-"]):
            done = run(*words, log=simulated())
            self.assert_status(done, 2)
            self.assertIn(b"Permission denied", done.stderr)

    def test_a_folder_that_is_not_there(self):
        log = self.file("test.csv", simulated())
        for words in (["simulate", "first_visit", "--out", "none/a.csv"],
                      ["settle", "--record", "none/b.csv", log],
                      ["report", "--html", "--out", "none/c.html", log]):
            done = run(*words, cwd=self.folder)
            self.assert_status(done, 2)
            self.assertIn(b"No such file or directory", done.stderr, words)


class GoneAway(FaultsTest):
    def setUp(self):
        super().setUp()
        lines = simulated().splitlines(keepends=True)
        self.live, self.said = self.fed(lines[:900])
        self.rest = lines[900:]

    def test_the_reader(self):
        self.live.stdout.close()
        self.give(self.live, self.rest)
        self.assertEqual(self.live.wait(60), 0)
        self.assertEqual(self.live.stderr.read(), b"")
        self.assert_told_again(self.said)

    def test_the_process(self):
        self.live.send_signal(signal.SIGKILL)
        self.live.wait(60)
        self.assert_told_again(self.said)

    def test_the_person(self):
        self.live.send_signal(signal.SIGINT)
        said = self.said + self.live.stdout.read()
        self.assertIn(self.live.wait(60), (0, 1))
        self.assertEqual(events(said)[-1]["event"], "end")
        self.assertEqual(events(run("settle", "--jsonl", self.record).stdout), events(said))


if __name__ == "__main__":
    main()
