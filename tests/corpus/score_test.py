# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The scorer gives known answers their known marks, on a small corpus made for the purpose."""

import json
import os
import subprocess
import tempfile
import unittest
from pathlib import Path

import score

MAKE_CORPUS = os.environ["MAKE_CORPUS"]


def lines(events):
    return "".join(json.dumps(event) + "\n" for event in [{"event": "begin"}, *events])


def oracle(known):
    """The true intervals with the mean of the sensed signal."""
    for it in known["intervals"]:
        yield {"event": "plateau", "declared_s": it["from_s"], "from_s": it["from_s"],
               "to_s": it["to_s"],
               "readings": {c: {"value": m["sensed"], "u": 0.01} for c, m in it["mean"].items()}}


def always(known):
    yield {"event": "plateau", "declared_s": known["clock"][0][1], "to_s": None}


def late(known):
    for event in oracle(known):
        yield {**event, "declared_s": event["declared_s"] + 40}


class Score(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        for scenario in ("air_adjustments", "short_cycling", "never_lit", "hunting"):
            subprocess.run([MAKE_CORPUS, cls.folder.name, "1", "4", "--only", scenario], check=True)
        cls.truths = [score.Truth(p) for p in sorted(Path(cls.folder.name).glob("*.truth.json"))]

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def marks(self, rule):
        outputs = {}
        for truth in self.truths:
            known = json.loads(Path(self.folder.name, f"{truth.name}.truth.json").read_text())
            path = Path(self.folder.name, f"{truth.name}.out.jsonl")
            path.write_text(lines(rule(known)))
            outputs[truth.name] = score.read_output(path, truth.last_s)
        return score.score(self.truths, outputs)["all"]

    def test_corpus_is_complete(self):
        self.assertEqual(len(self.truths), 16)
        self.assertGreater(sum(len(t.pieces) for t in self.truths), 15)

    def test_truth_itself_is_perfect(self):
        marks = self.marks(oracle)
        self.assertEqual((marks["false_settled"], marks["precision"], marks["recall"]), (0, 1, 1))
        self.assertEqual(marks["delay_s"]["p90"], 0)
        self.assertLess(marks["release_s"]["median"], 30)
        for reading in marks["readings"].values():
            self.assertEqual(reading["coverage"], 1)

    def test_a_late_claim_is_late(self):
        self.assertEqual(self.marks(late)["delay_s"]["median"], 40)

    def test_settled_at_once_is_mostly_false(self):
        marks = self.marks(always)
        self.assertGreater(marks["false_settled"], 0.4)
        self.assertLess(marks["precision"], 0.2)

    def test_nothing_said_is_counted(self):
        outputs = {truth.name: (None, 0) for truth in self.truths}
        marks = score.score(self.truths, outputs)["all"]
        self.assertEqual((marks["no_output"], marks["recall"], marks["plateaus"]), (16, 0, 0))

    def test_bad_lines_are_counted_and_a_later_line_replaces(self):
        path = Path(self.folder.name, "lines.jsonl")
        path.write_text('{"event":"plateau","declared_s":5,"to_s":null}\nnot json\n'
                        '{"event":"plateau","declared_s":"soon","to_s":9}\n'
                        '{"event":"plateau","declared_s":5,"to_s":9,"released_s":12}\n')
        plateaus, bad = score.read_output(path, 100)
        self.assertEqual(bad, 2)
        self.assertEqual([(p.declared, p.end, p.released) for p in plateaus], [(5, 9, 12)])


if __name__ == "__main__":
    unittest.main()
