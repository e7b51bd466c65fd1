# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""One invented visit, kept as a file, in each form: every byte as it was when last looked at.

A change here is not wrong, but it is to be read. To keep it: RENEW_GOLDEN=1 before the command.
"""

import os
from pathlib import Path

from command import CommandTest, main, run

GOLDEN = Path(__file__).parent.parent / "golden"


class Golden(CommandTest):
    maxDiff = None

    def compare(self, name, *words, verb="settle"):
        done = run(verb, *words, log=(GOLDEN / "visit.csv").read_bytes())
        self.assert_status(done, 0)
        self.assertEqual(done.stderr, b"")
        kept = GOLDEN / name
        if os.environ.get("RENEW_GOLDEN"):
            kept.write_bytes(done.stdout)
        self.assertEqual(done.stdout.decode(), kept.read_text(encoding="utf-8"))

    def test_plain(self):
        self.compare("visit.txt")

    def test_json_lines(self):
        self.compare("visit.jsonl", "--jsonl")

    def test_csv(self):
        self.compare("visit.out.csv", "--csv")

    def test_report(self):
        self.compare("report.txt", "--particulars", GOLDEN / "particulars.toml", verb="report")

    def test_narrow_report(self):
        self.compare("report_48.txt", "--width", "48", "--show", "degC,Pa", verb="report")

    def test_report_as_json(self):
        self.compare("report.json", "--particulars", GOLDEN / "particulars.toml", "--json",
                     verb="report")


if __name__ == "__main__":
    main()
