# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Through a noisy serial line in pieces of any size: what was not hit is read, what was is said."""

import re
import signal

import noise
from command import CommandTest, main, of_kind
from live import Running, SerialLine, wait_for_content


class NoisyLine(CommandTest):
    def through_the_line(self, received, chance, *words):
        record = self.folder / f"record{len(list(self.folder.iterdir()))}.csv"
        line = SerialLine()
        self.addCleanup(line.pull)
        process = Running(*words, "--device", line.name, "--record", record)
        self.addCleanup(process.stop)
        for piece in noise.pieces(received, chance):
            line.send(piece)
        wait_for_content(record, received[-20:])
        process.finish(signal.SIGINT)
        return process

    def check(self, seed, share):
        received, where, chance = noise.noisy_log(1500, share, seed)
        must = {n: (what, line) for n, what, line in noise.fate(received, where)}
        look = self.through_the_line(received, chance, "look", "frames")
        rows = {}
        for row in look.out.decode().splitlines()[1:]:
            time_s, number, *values = row.split(",")
            self.assertNotIn(int(number), rows, "answered once")
            rows[int(number)] = [float(x) if x else None for x in (time_s, *values[:4])]
        told = {int(n) for n in re.findall(rb"\bline (\d+)\b", look.complaints)}
        for number, (what, line) in must.items():
            if number == 1:
                continue  # the header
            if what == "read":
                self.assertEqual(rows.get(number), [float(x) for x in line.split(b",")], line)
            elif what == "rejected":
                self.assertNotIn(number, rows, line)
                self.assertIn(number, told, line)
            else:
                self.assertTrue(number in rows or number in told, line)
        self.assertFalse(told - must.keys())
        return look, must

    def test_what_was_not_hit_is_read_and_what_was_is_said(self):
        for seed in (1, 2, 3):
            with self.subTest(seed=seed):
                _, must = self.check(seed, 0.01)
                fates = [what for what, _ in must.values()]
                # The noise did what it should.
                self.assertGreater(fates.count("rejected"), 200)
                self.assertGreater(fates.count("read"), 800)

    def test_a_clean_line_is_read_whole(self):
        look, must = self.check(4, 0)
        self.assertEqual(look.out.count(b"\n"), 1502)
        self.assertEqual({what for what, _ in must.values()}, {"read"})

    def test_each_line_is_counted_once(self):
        received, where, chance = noise.noisy_log(1500, 0.01, 5)
        must = [what for _, what, _ in noise.fate(received, where)]
        settle = self.through_the_line(received, chance, "settle", "--jsonl", "--verbose")
        end = of_kind(settle.out, "end")[0]
        # The header is no row.
        self.assertEqual(end["rows"], len(must) - 1)
        self.assertGreaterEqual(end["frames"], must.count("read") - 1)
        self.assertLessEqual(end["frames"], must.count("read") - 1 + must.count("either"))
        rejected = {e["line"] for e in of_kind(settle.out, "rejection")}
        self.assertGreaterEqual(len(rejected), must.count("rejected"))
        self.assertGreaterEqual(sum(end["rejected"].values()), must.count("rejected"))


if __name__ == "__main__":
    main()
