# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""How a log would be read, told without judging it."""

import json
import subprocess
from pathlib import Path

from command import HEADER, STILLING, CommandTest, main, of_kind, run, simulated, start, steady_log

CASES = Path(__file__).parent.parent / "cases"


def told(*words, log=None):
    return json.loads(run("check", "--json", *words, log=log).stdout)


class Facts(CommandTest):
    def test_the_form_of_the_text(self):
        plain = steady_log(5)
        marked = b"\xef\xbb\xbf" + plain.encode()
        degrees = plain.replace("stack_temp_degF", "stack temp °F")
        for log, encoding, ends in (
                (plain, "ASCII", "LF"), (plain.replace("\n", "\r\n"), "ASCII", "CR LF"),
                (plain.replace("\n", "\r"), "ASCII", "CR"),
                (plain.replace("\n", "\r\n", 2), "ASCII", "LF and CR LF"),
                (marked, "UTF-8 with a byte order mark", "LF"),
                (degrees, "UTF-8", "LF"),
                (degrees.encode("latin-1"), "text with letters that are not UTF-8 (Latin-1, or "
                 "damage)", "LF"),
                (plain.encode("utf-16"), "UTF-16, low byte first", "LF"),
                (plain.encode("utf-16-be"), "UTF-16, high byte first", "LF")):
            with self.subTest(encoding=encoding, ends=ends):
                found = told(log=log)
                self.assertEqual((found["encoding"], found["line_ends"]), (encoding, ends))
                self.assertEqual((found["lines"], found["rows"], found["frames"]), (6, 5, 5))

    def test_separators(self):
        for sign in (",", ";", "\t", "|"):
            self.assertEqual(told(log=steady_log(3).replace(",", sign))["separator"], sign)

    def test_each_column_and_why_one_is_not_used(self):
        log = "time_s,Fan,stack_temp_degF,o2_pct,o2_pct,-\n0,1,450,5,6,7\n"
        columns = told(log=log)["columns"]
        self.assertEqual([(c["field"], c["name"], c["channel"], c["unit"]) for c in columns], [
            (1, "time_s", "time", "s"), (2, "Fan", None, None),
            (3, "stack_temp_degF", "stack_temp", "degF"), (4, "o2_pct", "o2", "pct"),
            (5, "o2_pct", None, None), (6, "-", None, None)])
        self.assertIn("no channel", columns[1]["not_used"])
        self.assertIn("already", columns[4]["not_used"])
        self.assertNotIn("not_used", columns[5])

    def test_the_header_is_found_behind_other_lines_and_before_a_row_of_units(self):
        log = "Service record\nTime,Stack temp,O2\ns,degF,%\n0,450,5\n1,450,5\n"
        found = told(log=log)
        self.assertEqual(found["header_line"], 2)
        self.assertEqual([c["unit"] for c in found["columns"]], ["s", "degF", "pct"])
        self.assertEqual(found["frames"], 2)
        given = told("--fields", "time_s,-,o2_pct", log="0,x,5\n1,x,5\n")
        self.assertIsNone(given["header_line"])
        self.assertEqual([c["channel"] for c in given["columns"]], ["time", None, "o2"])
        labels = told("--labels", "T=stack_temp:degF,at=time:s", log="at=0 T=450\nat=1 T=450\n")
        self.assertIsNone(labels["separator"])
        self.assertEqual([c["name"] for c in labels["columns"]], ["T", "at"])

    def test_the_clock(self):
        times = [0, 1, 2, 3, 4, 5, 25, 26, 27, 28]
        log = HEADER + "\n" + "".join(f"{t},450,68,5,20\n" for t in times)
        clock = told(log=log)["clock"]
        self.assertEqual((clock["form"], clock["unit"], clock["first_s"], clock["last_s"]),
                         ("number", "s", 0, 28))
        self.assertEqual(clock["spacing_s"], {"median": 1, "least": 1, "greatest": 20,
                                              "line_of_greatest": 8, "gaps": 1})
        stamped = told(log="time,o2_pct\n2026-03-01T10:00:00Z,5\n2026-03-01T10:00:00.5Z,5\n")
        self.assertEqual(stamped["clock"]["form"], "stamp")
        self.assertEqual(stamped["clock"]["first_s"], 1772359200)
        self.assertEqual(stamped["clock"]["spacing_s"]["median"], 0.5)

    def test_breaks_and_their_lines(self):
        found = told(log=(CASES / "037-dst-fold.csv").read_bytes())
        self.assertEqual(found["breaks"], {"count": 1,
                                           "first": [{"line": 14, "kind": "clock_back"}]})
        # The step back is no distance between rows.
        self.assertEqual(found["clock"]["spacing_s"]["greatest"], 30)
        zoned = told("--time-zone", "America/New_York", log=(CASES / "037-dst-fold.csv")
                     .read_bytes())
        self.assertEqual(zoned["breaks"]["count"], 0)

    def test_the_first_rows_in_the_units_of_the_log(self):
        rows = told(log=steady_log(9))["first_rows"]
        self.assertEqual(len(rows), 3)
        self.assertEqual((rows[2]["time_s"], rows[2]["line"], rows[2]["o2_pct"]), (2, 4, 5))
        self.assertIsNone(told(log=HEADER + "\n0,,68,5,20\n")["first_rows"][0]["stack_temp_degF"])

    def test_what_could_not_be_used_by_kind_with_the_first_of_each(self):
        log = steady_log(50).replace("\n7,450,", "\n7,4x0,").replace("\n9,451,", "\n9,4y1,")
        log = log.replace("\n20,450,68,5.0,20\n", "\n20,450\n")
        found = told(log=log)
        self.assertEqual({k: v["count"] for k, v in found["rejected"].items()},
                         {"bad_number": 2, "too_few_fields": 1})
        self.assertIn("line 9, field 2, '4x0'", found["rejected"]["bad_number"]["first"])

    def test_notes_are_seen(self):
        found = told(log=HEADER + "\n# probe in\n0,450,68,5,20\n# smoke 1\n")
        self.assertEqual(found["notes"]["count"], 2)
        self.assertIn("line 2: probe in", found["notes"]["first"])

    def test_assumptions_are_those_of_settle(self):
        log = (CASES / "030-european.csv").read_bytes()
        end = of_kind(run("settle", "--jsonl", log=log).stdout, "end")[0]
        said = told(log=log)["assumptions"]
        self.assertGreater(len(said), 0)
        self.assertLessEqual(set(said), set(end["assumptions"]))

    def test_settings_hold_here_too(self):
        path = self.file("x.toml", "fuel = 'b20'\n[reading]\ncolumns = {Flue = 'stack_temp:K'}\n")
        found = told("--settings", path, log="time_s,Flue\n0,500\n")
        self.assertEqual(found["columns"][1]["unit"], "K")
        bad = run("check", "--settings", self.file("y.toml", "x = 1\n"), log=steady_log(3))
        self.assert_status(bad, 2)
        self.assertIn(b"y.toml:1: 'x' is no setting", bad.stderr)


class Proposals(CommandTest):
    def test_what_is_proposed_makes_the_log_readable(self):
        for head, row, channels in (
                ("Date;Clock;Flue T;Room [°C];O2;CO [ppm]",
                 "01.02.2026;10:00:0{t};210,5;20,1;5,2;12",
                 {"stack_temp", "ambient_temp", "o2", "co"}),
                ("epoch,Exhaust (F),Oxygen %,Carbon monoxide ppm", "176994000{t},410,5.2,12",
                 {"stack_temp", "o2", "co"}),
                ("Clock\tflue gas T in K\tO2 measured\tDraught Pa", "10:00:0{t}\t480\t0.052\t-10",
                 {"stack_temp", "o2", "draft_breech"}),
                ("Elapsed seconds,it's the flue [degC],fire pressure [Pa]", "{t},210,-5",
                 {"stack_temp", "draft_overfire"}),
                ("time,T1_C,flow", "2026-02-01 10:00:0{t},60,1", {"stack_temp"})):
            with self.subTest(head=head):
                path = self.file("log.csv", "\n".join([head] + [row.format(t=t) for t in range(3)]))
                first = run("check", "--json", path)
                self.assert_status(first, 2)
                found = json.loads(first.stdout)
                self.assertFalse(found["understood"])
                words = [w for p in found["proposed"] for w in (p["option"], p["value"])]
                again = run("check", "--json", *words, path)
                self.assert_status(again, 0)
                second = json.loads(again.stdout)
                self.assertEqual(second["frames"], 3)
                self.assertLessEqual(channels, {c["channel"] for c in second["columns"]})
                # A person copies it from the text, through a shell.
                text = run("check", path).stdout.decode()
                command = text[text.index("  stilling check"):].split("\n  Flue")[0]
                lines = command.split("\n")
                last = next(i for i, line in enumerate(lines) if not line.endswith("\\"))
                command = "\n".join(lines[:last + 1]).replace("stilling", STILLING, 1)
                done = subprocess.run(["bash", "-c", command], capture_output=True, timeout=60)
                self.assertEqual(done.returncode, 0, done.stdout)

    def test_what_a_name_leaves_open_is_told(self):
        found = told(log="Clock,Flue T,O2 [%]\n10:00:00,410,5.2\n")
        doubts = {p["value"]: p["doubt"] for p in found["proposed"]}
        self.assertIn("or degC?", doubts["Flue T=stack_temp:degF"])
        self.assertIsNone(doubts["Clock=time"])

    def test_a_row_of_units_is_not_overruled(self):
        found = told(log="Time,Stack temp,O2stack\ns,C,mol/mol\n0,200,0.05\n1,200,0.05\n")
        self.assertEqual([p["value"] for p in found["proposed"]], ["O2stack=o2"])
        again = told("--column", "O2stack=o2",
                     log="Time,Stack temp,O2stack\ns,C,mol/mol\n0,200,0.05\n1,200,0.05\n")
        self.assertEqual(again["columns"][2]["unit"], "fraction")

    def test_labels(self):
        log = "time_s=1 T=471F O2=5.2% CO=12ppm\ntime_s=2 T=471F O2=5.2% CO=12ppm\n"
        found = told(log=log)
        self.assertEqual(found["proposed"][0]["option"], "--labels")
        self.assertEqual(told("--labels", found["proposed"][0]["value"], log=log)["frames"], 2)

    def test_rows_without_names_are_counted(self):
        done = run("check", log="471,5.2,12\n471,5.2,12\n")
        self.assert_status(done, 2)
        self.assertIn(b"--fields time_s,NAME,NAME", done.stdout)

    def test_no_time_is_said(self):
        done = run("check", log="Flue T,O2\n471,5.2\n471,5.2\n")
        self.assertIn(b"--interval", done.stdout)

    def test_a_time_of_its_own_form_is_said(self):
        done = run("check", log="Clock,Flue T,O2\n01/02/2026 10h00,471,5.2\n")
        self.assertIn(b"--time-format", done.stdout)


class ForAPerson(CommandTest):
    def test_a_good_log(self):
        done = run("check", log=simulated())
        self.assert_status(done, 0)
        self.assertEqual(done.stderr, b"")
        text = done.stdout.decode()
        for words in ("standard input is ASCII", "can all be read", "Line 1 names the columns",
                      "stack_temp_degF", "Rows are 1 s apart", "There is no break.",
                      "The first rows, as they were read:"):
            self.assertIn(words, text)
        prose = [line for line in text.splitlines() if not line.startswith("  ")]
        self.assertLessEqual(max(map(len, prose)), 88)

    def test_statuses(self):
        for log, status in ((b"", 1), (b"\n\n", 1), (HEADER + "\n", 1), ("# a note\n", 1),
                            (HEADER + "\n0,450,68,5,20\n", 0), ("no,log\nat,all\n", 2),
                            (HEADER + "\nx,450,68,5,20\n", 2), (b"\x00\xff\x01\n" * 9, 2)):
            with self.subTest(log=log):
                self.assert_status(run("check", log=log), status)
                self.assert_status(run("check", "--json", log=log), status)
        done = run("check", self.folder / "none.csv")
        self.assert_status(done, 2)
        self.assertIn(b"none.csv: No such file", done.stderr)

    def test_what_a_log_holds_cannot_steer_the_screen(self):
        log = "time_s,stack_temp_degF,\x1b[31mFan\n0,450,1\n\x1b[2J,x,y\n# \x1b]0;x\x07\n"
        done = run("check", log=log)
        self.assertNotIn(b"\x1b", done.stdout)
        self.assertNotIn(b"\x07", done.stdout)

    def test_the_pieces_a_pipe_brings_change_nothing(self):
        log = simulated()[:20000]
        process = start("check", "--json", bufsize=0)
        for i in range(0, len(log), 997):
            process.stdin.write(log[i:i + 997])
        out, _ = process.communicate(timeout=60)
        self.assertEqual(out, run("check", "--json", log=log).stdout)

    def test_memory_is_bounded(self):
        # Irregular times, a new header every hundred rows, faults, notes: nothing may pile up.
        script = ("import resource, subprocess, sys\n"
                  "done = subprocess.run(sys.argv[1:], stdin=sys.stdin, "
                  "stdout=subprocess.DEVNULL)\n"
                  "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)\n")
        peaks = []
        for n in (2_000, 200_000):
            path = self.folder / "big.csv"
            with open(path, "w", encoding="ascii") as f:
                for i in range(n):
                    if i % 100 == 0:
                        f.write(f"time_s,stack_temp_degF,Fan{i}\n")
                    if i % 7 == 0:
                        f.write(f"# remark {i}\nbad {i}\n")
                    f.write(f"{i + (i * 7919 % 9973) / 10000:.6f},450,1\n")
            with open(path, "rb") as log:
                done = subprocess.run(["python3", "-c", script, STILLING, "check"], stdin=log,
                                      capture_output=True, timeout=120, check=True)
            peaks.append(int(done.stdout))
        self.assertLess(peaks[1] - peaks[0], 1500)  # KiB, for 8 MB more of log


if __name__ == "__main__":
    main()
