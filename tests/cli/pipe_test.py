# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Through real pipes: the pieces, the source and the clock's origin change nothing."""

import json
import os
import re
import select
import signal
import subprocess
import threading
import time
from decimal import Decimal

from command import STILLING, CommandTest, events, main, of_kind, run, simulated, start, steady_log

SCENARIOS = ("first_visit", "broken_clock", "faulty_sensors")


def in_pieces(log, size, *words):
    process = start("settle", *words, bufsize=0)
    reader = os.fdopen(os.dup(process.stdout.fileno()), "rb")
    # Both pipes can fill up: read on the side.
    got = []
    side = threading.Thread(target=lambda: got.append(reader.read()))
    side.start()
    for i in range(0, len(log), size):
        os.write(process.stdin.fileno(), log[i:i + size])
    process.stdin.close()
    side.join()
    process.wait()
    process.stdout.close()
    process.stderr.close()
    reader.close()
    return got[0]


class Pieces(CommandTest):
    def test_pieces_of_any_size_give_the_same_bytes(self):
        for scenario in SCENARIOS:
            log = simulated(scenario)
            whole = run("settle", "--jsonl", self.file("log.csv", log)).stdout
            self.assertIn(b'"event":"end"', whole)
            for size in (1, 7, 65_536):
                with self.subTest(scenario=scenario, size=size):
                    self.assertEqual(in_pieces(log, size, "--jsonl"), whole)

    def test_file_redirection_and_pipe_give_the_same_bytes(self):
        path = self.file("log.csv", simulated())
        for form in ("--jsonl", "--csv", None):
            words = [form] if form else []
            with self.subTest(form=form):
                named = run("settle", *words, path)
                with path.open("rb") as file:
                    redirected = subprocess.run([STILLING, "settle", *words], stdin=file,
                                                capture_output=True, timeout=60)
                piped = run("settle", *words, log=simulated())
                self.assertEqual(named.stdout, redirected.stdout)
                self.assertEqual(named.stdout, piped.stdout)

    def test_line_ends_change_nothing(self):
        log = simulated()
        whole = run("settle", "--jsonl", log=log).stdout
        for end in (b"\r\n", b"\r"):
            self.assertEqual(run("settle", "--jsonl", log=log.replace(b"\n", end)).stdout, whole)

    def test_a_last_row_without_a_line_end_counts(self):
        # Its last cell may have lost digits, and is left out where nobody can tell.
        done = run("settle", "--jsonl", log=steady_log(100).rstrip("\n"))
        self.assertEqual(of_kind(done.stdout, "end")[0]["frames"], 100)
        closed = of_kind(done.stdout, "plateau")[-1]
        self.assertEqual((closed["to_s"], closed["readings"]["stack_temp_degF"]["n"]), (99, 100))


class Shift(CommandTest):
    def shifted(self, log, by):
        lines = []
        for line in log.decode().splitlines():
            if re.match(r"-?\d", line):
                stamp, rest = line.split(",", 1)
                line = f"{Decimal(stamp) + by},{rest}"
            lines.append(line)
        return "\n".join(lines) + "\n"

    def test_a_constant_added_to_every_stamp_shifts_the_output_and_nothing_else(self):
        log = simulated()
        keys = {"time_s", "declared_s", "from_s", "to_s", "released_s"}

        def moved_back(value, by, key=None):
            if isinstance(value, dict):
                return {k: moved_back(v, by, k) for k, v in value.items()}
            if isinstance(value, list):
                return [moved_back(v, by) for v in value]
            return value - by if key in keys and value is not None else value

        def read(out):
            return [json.loads(line, parse_float=Decimal, parse_int=Decimal)
                    for line in out.decode().splitlines()]

        plain = read(run("settle", "--jsonl", log=log).stdout)
        for by in (Decimal(86_400), Decimal("1700000000.125"), Decimal("-5000")):
            with self.subTest(by=by):
                out = run("settle", "--jsonl", log=self.shifted(log, by)).stdout
                self.assertEqual([moved_back(e, by) for e in read(out)], plain)


class Live(CommandTest):
    def test_what_a_row_proves_is_said_before_the_next_one(self):
        process = start("settle", "--jsonl", bufsize=0)
        self.addCleanup(process.stdout.close)
        self.addCleanup(process.stderr.close)
        rows = steady_log(200).encode().splitlines(keepends=True)
        os.set_blocking(process.stdout.fileno(), False)
        said = b""
        for sent, row in enumerate(rows):
            process.stdin.write(row)
            if sent < 60:
                continue
            limit = time.monotonic() + 1
            while b"plateau" not in said and time.monotonic() < limit and sent > 150:
                said += process.stdout.read() or b""
            said += process.stdout.read() or b""
            if b'"plateau"' in said:
                break
        process.stdin.close()
        process.wait()
        self.assertIn(b'"to_s":null', said)
        self.assertLess(sent, len(rows) - 1)

    def test_a_row_is_answered_before_the_next_one_through_another_program(self):
        process = subprocess.Popen(["bash", "-c", f"{STILLING} look frames | cat"],
                                   stdin=subprocess.PIPE, stdout=subprocess.PIPE, bufsize=0)
        self.addCleanup(process.stdout.close)
        for row in steady_log(20).encode().splitlines(keepends=True):
            process.stdin.write(row)
            readable, _, _ = select.select([process.stdout], [], [], 60)
            self.assertTrue(readable, row)
            self.assertEqual(os.read(process.stdout.fileno(), 4096).count(b"\n"), 1)
        process.stdin.close()
        process.wait(60)

    def test_a_reader_that_leaves_is_no_error(self):
        for words in (["settle", "--jsonl"], ["settle"], ["settle", "--csv"], ["look", "frames"]):
            with self.subTest(words=words):
                process = start(*words)
                process.stdout.close()
                try:
                    process.stdin.write(simulated())
                    process.stdin.close()
                except BrokenPipeError:
                    pass
                self.assertEqual(process.wait(timeout=60), 0)
                self.assertEqual(process.stderr.read(), b"")
                process.stderr.close()

    def test_head(self):
        path = self.file("log.csv", simulated())
        for verb in (f"settle --jsonl {path}", f"look frames {path}", "simulate first_visit"):
            done = subprocess.run(["bash", "-c",
                                   f"{STILLING} {verb} | head -1; echo ${{PIPESTATUS[0]}}"],
                                  capture_output=True, timeout=60)
            self.assertEqual(done.stderr, b"")
            self.assertEqual(done.stdout.splitlines()[1], b"0")

    def test_a_wish_to_stop_gets_a_last_word(self):
        for wish in (signal.SIGINT, signal.SIGTERM):
            with self.subTest(wish=wish):
                process = start("settle", "--jsonl", bufsize=0)
                process.stdin.write(steady_log(200).encode())
                said = b""
                while b'"plateau"' not in said:
                    said += process.stdout.readline()
                process.send_signal(wish)
                out, complaints = process.communicate(timeout=60)
                self.assertEqual(process.returncode, 0, complaints)
                last = events(out)
                self.assertEqual(last[-1]["event"], "end")
                self.assertEqual(last[-2]["end_reason"], "end_of_log")


if __name__ == "__main__":
    main()
