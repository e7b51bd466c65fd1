# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Logs nobody made for us are read as they are, with one command line each: every value is compared
with what Python's csv module finds in the same file. Sources and licences: tests/data/README.md.
"""

import csv
from datetime import datetime, timezone
from pathlib import Path

from command import CommandTest, events, main, of_kind, run

LOGS = Path(__file__).parent.parent / "data"

ENCLOSURE = ["--column", "Time=time:s", "--column", "Tstack=stack_temp:degC",
             "--column", "O2stack=o2:fraction", "--column", "Costack=co:fraction",
             "--column", "TambCal=ambient_temp:degC",
             "--combustion-check", "off", "--require", "stack_temp"]
ROOM = ["--column", "Time=time:s", "--column", "Tree 4-10=stack_temp:degC",
        "--column", "O2-1=o2:fraction", "--column", "CO-3=co:fraction", "--missing", "999.0",
        "--combustion-check", "off", "--require", "stack_temp"]
SOLAR = ["--column", "T1_C=stack_temp:degC", "--time-format", "%d.%m.%Y %H:%M"]


def rows_of(name, skipped):
    lines = (LOGS / name).read_text(encoding="utf-8").splitlines()
    names = [n.strip() for n in lines[0].split(",")]
    return [dict(zip(names, (c.strip() for c in line.split(",")))) for line in lines[skipped:]]


class RealLogs(CommandTest):
    def frames(self, name, words):
        done = run("look", "frames", *words, LOGS / name)
        self.assert_status(done, 0)
        return list(csv.DictReader(done.stdout.decode().splitlines()))

    def end(self, name, words):
        return of_kind(run("settle", "--jsonl", *words, LOGS / name).stdout, "end")[0]

    def assert_values(self, frames, rows, columns, missing=()):
        self.assertEqual(len(frames), len(rows))
        for frame, row in zip(frames, rows):
            for ours, theirs in columns.items():
                value = float(row[theirs])
                if value != value or value in missing:
                    self.assertEqual(frame[ours], "", row[theirs])
                else:
                    self.assertAlmostEqual(float(frame[ours]), value, delta=1e-9)

    def test_an_enclosure_with_a_row_of_units(self):
        frames = self.frames("enclosure_fire.csv", ENCLOSURE)
        self.assert_values(frames, rows_of("enclosure_fire.csv", 2),
                           {"time_s": "Time", "stack_temp_degC": "Tstack", "o2_fraction": "O2stack",
                            "co_fraction": "Costack", "ambient_temp_degC": "TambCal"})
        end = self.end("enclosure_fire.csv", ENCLOSURE)
        self.assertEqual((end["rows"], end["frames"], end["rejected"]), (118, 118, {}))
        ignored = [a for a in end["assumptions"] if a.startswith("column_ignored")]
        self.assertEqual(len(ignored), 9)
        self.assertIn("and 50 others", ignored[-1])

    def test_a_room_with_255_padded_names_and_stand_ins_for_no_value(self):
        rows = rows_of("room_fire.csv", 1)
        self.assertTrue(any(r["CO-3"] == "999.0" for r in rows))
        self.assert_values(self.frames("room_fire.csv", ROOM), rows,
                           {"time_s": "Time", "stack_temp_degC": "Tree 4-10", "o2_fraction": "O2-1",
                            "co_fraction": "CO-3"}, missing=(999.0,))
        self.assertEqual(self.end("room_fire.csv", ROOM)["rejected"], {})

    def test_a_loop_by_the_minute_and_out_of_order(self):
        rows = rows_of("solar_loop.csv", 1)
        for row in rows:
            at = datetime.strptime(row["time"], "%d.%m.%Y %H:%M").replace(tzinfo=timezone.utc)
            row["at"] = str(at.timestamp())
        frames = self.frames("solar_loop.csv", SOLAR)
        # Rows that share a minute are spread over it.
        self.assert_values(frames, rows, {"stack_temp_degC": "T1_C"})
        for frame, row in zip(frames, rows):
            self.assertTrue(0 <= float(frame["time_s"]) - float(row["at"]) < 60)
        said = events(run("settle", "--jsonl", *SOLAR, LOGS / "solar_loop.csv").stdout)
        back = sum(float(b["at"]) < float(a["at"]) for a, b in zip(rows, rows[1:]))
        self.assertEqual([e["kind"] for e in said if e["event"] == "break"], ["clock_back"] * back)
        self.assertGreater(back, 0)
        # Without the format the same: days with dots are day.month.year, and it is said.
        self.assertEqual(self.frames("solar_loop.csv", SOLAR[:2]), frames)


if __name__ == "__main__":
    main()
