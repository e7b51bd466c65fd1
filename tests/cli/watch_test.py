# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""`stilling watch` in a real terminal and without one.

Rows are added to a followed log, and what is to be seen is waited for: nothing here depends on how
fast the machine is.
"""

import os
import pty
import signal
import subprocess
import threading
from pathlib import Path

from command import ENVIRONMENT, HEADER, STILLING, CommandTest, main, run, simulated, steady_log
from live import wait_until
from terminal import TMUX, Terminal

VISIT = (Path(__file__).parent.parent / "golden" / "visit.csv").read_bytes().splitlines(True)


class InTerminal(CommandTest):
    def setUp(self):
        if TMUX is None:
            self.skipTest("tmux is not installed; on Debian: apt-get install tmux")
        super().setUp()
        self.log = self.folder / "log.csv"
        self.added = 0

    def terminal(self, *size, **environment):
        there = Terminal(self.folder, *size, **environment)
        self.addCleanup(there.close)
        return there

    def add(self, lines):
        with self.log.open("ab") as log:
            log.write(b"".join(VISIT[self.added:lines]))
        self.added = lines

    def watching(self, *size, words="", **environment):
        there = self.terminal(*size, **environment)
        there.enter(f'"$STILLING" watch --follow log.csv {words}; echo status $?')
        there.wait_for("No row has come yet")
        return there

    def leave(self, there, status):
        there.keys("q", "q")
        there.wait_for(f"status {status}")


class Screen(InTerminal):
    def test_each_phase_and_what_is_settled(self):
        there = self.watching()
        for lines, said in ((40, "the probe is in fresh air"), (90, "no fire is seen"),
                            (300, "It waits for stack temperature"), (900, "Settled since 10:38"),
                            (1060, "No longer settled since 17:11: O2 left its level"),
                            (1300, "against reading 1. Real: stack +18.3 ± 0.5 °F"),
                            (1935, "the flue cools")):
            self.add(lines)
            there.wait_for(said)
        self.assertIn("Reading 3", there.words())
        self.leave(there, 0)
        self.assertIn("CO poisons", there.words())

    def test_a_simulated_live_session_up_to_its_end(self):
        there = self.terminal()
        there.enter('"$STILLING" simulate first_visit --seed 7 --pace 400 | "$STILLING" watch; '
                    'echo status $?')
        there.wait_for("from standard input")
        there.wait_for("The log ended")
        there.wait_for("3 settled readings")
        there.keys("q")
        there.wait_for("status 0")
        self.assertIn("CO poisons", there.words())

    def test_a_note_enters_log_and_record_and_replays(self):
        there = self.watching(words="--record kept.csv")
        self.add(900)
        there.wait_for("Settled since")
        there.keys("n")
        there.wait_for("Short words")
        there.type("air quärter turn")
        there.wait_for("It enters as: adjusted air quärter turn")
        there.keys("Enter")
        there.wait_for("Noted: adjusted air quärter turn")
        newest = VISIT[899].split(b",")[0].decode()
        kept = there.wait_for_file("kept.csv", lambda c: c.endswith("turn\n".encode()))
        self.assertTrue(kept.endswith(f"# {newest} adjusted air quärter turn\n".encode()))
        there.wait_for("You noted `adjusted air quärter turn`")
        self.add(1300)
        there.wait_for("After `adjusted air quärter turn`, `adjusted air`, against reading 1")
        self.leave(there, 0)
        replayed = run("settle", "kept.csv", cwd=self.folder)
        self.assert_status(replayed, 0)
        table = [line for line in replayed.stdout.decode().splitlines() if " ± " in line
                 and line.startswith(("stack", "O2", "CO", "excess", "efficiency"))]
        self.assertGreater(len(table), 4)
        for line in table:
            self.assertIn(" ".join(line.split()), " ".join(there.shown("-S", "-").split()))

    def test_a_note_is_given_up_by_escape(self):
        there = self.watching()
        self.add(100)
        there.wait_for("no fire")
        there.keys("n")
        there.type("nonsense")
        there.wait_for("Note: nonsense")
        there.keys("Escape")
        there.wait_for("Note: nonsense", present=False)
        self.assertNotIn("Noted", there.words())
        there.keys("n")
        there.type("smoke 1")
        there.keys("Enter")
        there.wait_for("Last note: 1:35 smoke 1")

    def test_danger_is_on_top_until_it_was_seen(self):
        there = self.watching()
        self.log.write_text(steady_log(200) + steady_log(20, 200, header="",
                                                         rows="{t},{stack},68,5.{o2},450"))
        there.wait_for("DANGER: CO 450 ppm now, in the flue gas, since 3:20")
        there.wait_for("Next: see to the CO before anything else")
        there.keys("k")
        there.wait_for("seen by you")
        self.assertNotIn("DANGER", there.words())

    def test_any_size_at_any_time(self):
        there = self.watching()
        self.add(900)
        there.wait_for("Settled since")
        for columns, rows in ((40, 20), (10, 3), (1, 1), (200, 60), (40, 12), (80, 24)):
            there.resize(columns, rows)
            if columns >= 40:
                there.wait_for("Settled since")
                there.wait_for("q end")
        there.resize(40, 20)
        there.wait_for("Next: draw a smoke spot")
        self.leave(there, 0)

    def test_without_utf8_and_without_colour(self):
        there = self.watching(LC_ALL="C", NO_COLOR="1")
        self.add(900)
        there.wait_for("Settled since")
        self.assertTrue(there.shown().isascii(), there.shown())
        self.assertNotIn("\x1b[1m", there.shown("-e"))

    def test_the_terminal_is_given_back(self):
        for name, keys, said in (("q", ("q", "q"), "status 0"), ("int", ("C-c",), "status 0"),
                                 ("TERM", None, "status 0"), ("HUP", None, "status 0"),
                                 ("SEGV", None, "status 139"), ("ABRT", None, "status 134"),
                                 ("QUIT", ("C-\\",), "status 131")):
            with self.subTest(name):
                there = self.terminal()
                self.log.unlink(missing_ok=True)
                self.added = 0
                there.enter("ulimit -c 0; stty -a >before; echo begun here")
                there.wait_for("begun here")
                there.enter('sh -c \'echo $$ >pid; exec "$STILLING" watch --follow log.csv\'; '
                            'echo status $?; stty -a >after')
                there.wait_for("No row has come yet")
                self.add(900)
                there.wait_for("Settled since")
                if keys is None:
                    os.kill(int((self.folder / "pid").read_text()),
                            getattr(signal, "SIG" + name))
                else:
                    there.keys(*keys)
                there.wait_for(said)
                there.wait_for_file("after", lambda c: c.endswith(b"\n"))
                self.assertEqual((self.folder / "before").read_bytes(),
                                 (self.folder / "after").read_bytes())
                # What stood there before is there again.
                if said.startswith("status 1"):
                    self.assertIn("begun here", there.words())
                (self.folder / "after").unlink()
                there.close()

    def test_lines_typed_are_notes_where_there_is_no_page(self):
        there = self.terminal(80, 50)
        there.enter('"$STILLING" watch --plain --follow log.csv --record kept.csv')
        there.wait_for("Ctrl-C ends the log")
        self.add(100)
        there.wait_for("no fire")
        there.enter("smoke trace")
        kept = there.wait_for_file("kept.csv", lambda c: c.endswith(b"trace\n"))
        newest = VISIT[99].split(b",")[0]
        self.assertTrue(kept.endswith(b"# " + newest + b" smoke trace\n"), kept[-80:])
        there.keys("C-c")
        there.wait_for("CO poisons")


class WithoutTerminal(CommandTest):
    def test_lines_are_those_of_settle_and_what_comes_next(self):
        done = run("watch", log=simulated())
        self.assert_status(done, 0)
        out = done.stdout.decode()
        self.assertNotIn("\x1b", out)
        self.assertIn("next: put the probe in the flue and light the burner.", out)
        self.assertIn("After `adjusted air`, against reading 1. Real: stack +18.3", out)
        settled = run("settle", "--forecast", log=simulated()).stdout.decode().splitlines()
        rest = iter(out.splitlines())
        for line in settled:
            self.assertIn(line, rest, "each line of settle, in its order")

    def test_what_cannot_be_read_is_said_as_settle_says_it(self):
        done = run("watch", self.folder / "nowhere.csv")
        self.assert_status(done, 2)
        self.assertIn(b"nowhere.csv: No such file", done.stderr)
        self.assert_status(run("watch", log="nonsense\nnone\n"), 2)
        self.assert_status(run("watch", log=steady_log(5)), 1)
        self.assert_status(run("watch", log=HEADER + "\n"), 1)

    def test_a_reader_that_goes_away_is_no_error(self):
        log = self.file("log.csv", simulated())
        done = subprocess.run(f'"{STILLING}" watch log.csv | head -1; exit ${{PIPESTATUS[0]}}',
                              shell=True, executable="/bin/bash", cwd=self.folder,
                              env=ENVIRONMENT, capture_output=True, check=False, timeout=120)
        self.assertEqual((done.returncode, done.stderr), (0, b""))
        self.assertEqual(log.name, "log.csv")


class HungTerminal(CommandTest):
    def test_a_terminal_that_takes_nothing_loses_no_row(self):
        ours, theirs = pty.openpty()
        process = subprocess.Popen(
            [STILLING, "watch", "--record", "kept.csv"], stdin=subprocess.PIPE, stdout=theirs,
            stderr=subprocess.PIPE, cwd=self.folder, start_new_session=True,
            env={**ENVIRONMENT, "TERM": "xterm", "LC_ALL": "C.UTF-8"})
        self.addCleanup(process.kill)
        os.close(theirs)
        kept = self.folder / "kept.csv"
        log = b"".join(VISIT)
        # Many pages: each waits until its rows were recorded, and nobody reads the terminal.
        for at in range(0, len(log), 4096):
            process.stdin.write(log[at:at + 4096])
            process.stdin.flush()
            wait_until(lambda: kept.exists() and kept.stat().st_size >= min(at + 4096, len(log)),
                       "the record")
        process.stdin.close()
        shown = bytearray()

        def read():
            try:
                while piece := os.read(ours, 65_536):
                    shown.extend(piece)
            except OSError:
                pass  # the other end is closed

        reader = threading.Thread(target=read, daemon=True)
        reader.start()
        self.assertEqual(process.wait(90), 0)
        process.stderr.close()
        os.close(ours)
        self.assertEqual(kept.read_bytes(), log)


class Pace(CommandTest):
    def test_pace_changes_when_and_not_what(self):
        done = run("simulate", "light_appliance", "--seed", 3, "--pace", 10000)
        self.assertEqual(done.stdout, simulated("light_appliance", 3))


if __name__ == "__main__":
    main()
