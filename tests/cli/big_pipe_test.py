# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A log of any size through a pipe: the same answer as from the file, in the same small memory."""

import os
import subprocess
import sys
import tempfile

from command import ENVIRONMENT, STILLING, CommandTest, main, simulated

MEGABYTES = 30
MOST_MEMORY = 16 << 20

# Started by a process as small as can be: what the starter takes is counted as the child's.
STARTER = """
import os, sys
child = os.posix_spawn(sys.argv[2], sys.argv[2:], os.environ)
os.close(0)
_, status, used = os.wait4(child, 0)
with open(sys.argv[1], "w") as file:
    print(os.waitstatus_to_exitcode(status), used.ru_maxrss * 1024, file=file)
"""


def endless_log():
    """Invented tests one after the other, each with its header and its clock from the start."""
    parts = [simulated(scenario, seed) for scenario in ("first_visit", "faulty_sensors",
                                                        "broken_clock") for seed in (1, 2)]
    while True:
        yield from parts


def garbage():
    lines = b"".join(b"%d %s no reading\n" % (i, bytes([65 + i % 26]) * (i % 90))
                     for i in range(20_000))
    while True:
        yield lines


def one_line():
    while True:
        yield b"450,5.0,20," * 100_000


def sized(parts, size):
    for part in parts:
        yield part[:size]
        size -= len(part)
        if size <= 0:
            return


class BigPipe(CommandTest):
    def through_a_pipe(self, parts, *words):
        """What was said, the status, and the most memory it took."""
        with tempfile.TemporaryFile(dir=self.folder) as out, \
                tempfile.TemporaryFile(dir=self.folder) as complaints:
            account = self.folder / "account"
            process = subprocess.Popen([sys.executable, "-ISBc", STARTER, account, STILLING,
                                        *words], stdin=subprocess.PIPE, stdout=out,
                                       stderr=complaints, env=ENVIRONMENT)
            for part in parts:
                process.stdin.write(part)
            process.stdin.close()
            process.wait(250)
            status, used = map(int, account.read_text().split())
            out.seek(0)
            complaints.seek(0)
            return out.read(), complaints.read(), status, used

    def check_memory(self, used):
        if os.environ.get("SHOW_MEMORY"):
            print(f"{self.id()}: {used >> 10} KiB")
        self.assertLessEqual(used, MOST_MEMORY, f"{used >> 10} KiB")

    def test_the_starter_itself_is_small(self):
        self.assertLess(self.through_a_pipe([], "--version")[3], MOST_MEMORY * 3 / 4)

    def test_many_tests_in_a_row_settle_as_from_the_file(self):
        path = self.folder / "log.csv"
        with path.open("wb") as file:
            file.writelines(sized(endless_log(), MEGABYTES << 20))
        piped, complaints, status, used = self.through_a_pipe(
            sized(endless_log(), MEGABYTES << 20), "settle", "--jsonl")
        self.assertEqual(status, 0, complaints)
        self.check_memory(used)
        named = subprocess.run([STILLING, "settle", "--jsonl", path], capture_output=True,
                               env=ENVIRONMENT, timeout=250)
        self.assertEqual(named.stdout, piped)
        self.assertGreater(piped.count(b'"event":"plateau"'), 100)

    def test_verdicts_row_by_row(self):
        out, _, status, used = self.through_a_pipe(sized(endless_log(), 10 << 20), "look",
                                                   "verdicts")
        self.assertEqual(status, 0)
        self.assertGreater(len(out), 10 << 20)
        self.check_memory(used)

    def test_one_line_without_an_end(self):
        for words in (["settle", "--jsonl"], ["settle"], ["settle", "--jsonl", "--stamp"]):
            with self.subTest(words=words):
                out, complaints, status, used = self.through_a_pipe(
                    sized(one_line(), MEGABYTES << 20), *words)
                self.check_memory(used)
                self.assertEqual(status, 2)
                self.assertIn(b"the line is longer than any row", complaints)
                self.assertLess(len(complaints), 500)

    def test_garbage(self):
        for words in (["settle", "--jsonl"], ["settle"], ["settle", "--jsonl", "--stamp"]):
            with self.subTest(words=words):
                out, complaints, status, used = self.through_a_pipe(
                    sized(garbage(), MEGABYTES << 20), *words)
                self.check_memory(used)
                self.assertEqual(status, 2)
                self.assertIn(b"no header was found", complaints)

    def test_garbage_behind_a_header(self):
        def parts():
            yield b"time_s,stack_temp_degF,o2_pct,co_ppm\n"
            yield from garbage()
        for words in (["settle", "--jsonl"], ["settle"]):
            with self.subTest(words=words):
                _, complaints, status, used = self.through_a_pipe(
                    sized(parts(), MEGABYTES << 20), *words)
                self.check_memory(used)
                self.assertEqual(status, 2)
                self.assertIn(b"no row could be read", complaints)


if __name__ == "__main__":
    main()
