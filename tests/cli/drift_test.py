# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""--drift-correction: what two looks at fresh air correct, what they leave alone, that it is said.
Truth is that of the invented tests: the gas itself, before any cell."""

import csv
import io
import json
import re
import signal

from command import HEADER, CommandTest, events, main, of_kind, run, simulated
from live import Running

CELLS = ("o2_pct", "co_ppm")
OPTION = "--drift-correction"
SCENARIO = "drifting_between"


def closed(out):
    return [p for p in of_kind(out, "plateau") if p["to_s"] is not None]


def words_about_drift(out):
    return [a for a in of_kind(out, "end")[0]["assumptions"] if a.startswith("drift_correction: ")]


def without_its_end(log):
    """The first look at fresh air only."""
    return log[:log.rindex(b"# fresh air")]


class Drift(CommandTest):
    def settled(self, *words, log):
        done = run("settle", "--jsonl", *words, log=log)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return done.stdout

    def test_corrected_is_nearer_the_truth_and_within_its_interval(self):
        off = {c: [0, 0] for c in CELLS}  # sums of squares: as indicated, as corrected
        held = {c: [0, 0] for c in CELLS}
        count = 0
        for seed in range(1, 13):
            truth = self.folder / "truth.json"
            log = run("simulate", SCENARIO, "--seed", seed, "--truth", truth).stdout
            intervals = json.loads(truth.read_text())["intervals"]
            for p in closed(self.settled(OPTION, log=log)):
                middle = (p["from_s"] + p["to_s"]) / 2
                gas = [i["mean"] for i in intervals if i["from_s"] - 60 <= middle <= i["to_s"]]
                if not gas or "drift_corrected" not in p["flags"]:
                    continue
                count += 1
                for c in CELLS:
                    r, right = p["readings"][c], gas[0][c]["gas"]
                    if "correction" not in r:
                        continue
                    off[c][0] += (r["indicated"] - right) ** 2
                    off[c][1] += (r["value"] - right) ** 2
                    held[c][0] += abs(r["value"] - right) <= r["u"]
                    held[c][1] += 1
        self.assertGreater(count, 15)
        for c in CELLS:
            self.assertLess(off[c][1], off[c][0] / 1.3, c)
            self.assertGreaterEqual(held[c][0] / held[c][1], 0.85, (c, held[c]))

    def test_indication_and_correction_are_both_kept(self):
        log = simulated(SCENARIO)
        plain, told = closed(self.settled(log=log)), closed(self.settled(OPTION, log=log))
        self.assertTrue(told)
        self.assertEqual([p["declared_s"] for p in plain], [p["declared_s"] for p in told])
        for before, after in zip(plain, told):
            self.assertEqual((before["flags"].count("drift_corrected"),
                              after["flags"].count("drift_corrected")), (0, 1))
            for c in CELLS:
                r, as_before = after["readings"][c], before["readings"][c]
                self.assertAlmostEqual(r["indicated"] + r["correction"], r["value"], delta=0.02)
                self.assertAlmostEqual(r["indicated"], as_before["value"], delta=0.02)
                self.assertGreater(r["u"], as_before["u"])
                self.assertEqual(r["n"], as_before["n"])
            for c in set(before["readings"]) - set(CELLS):
                self.assertNotIn("indicated", before["readings"][c])
                # What its noise is known by also hangs on when the others were steady.
                self.assertAlmostEqual(before["readings"][c].pop("u") /
                                       after["readings"][c].pop("u"), 1, delta=0.02)
                self.assertEqual(before["readings"][c], after["readings"][c])

    def test_what_was_done_is_said_with_its_numbers(self):
        oxygen, monoxide = words_about_drift(self.settled(OPTION, log=simulated(SCENARIO)))
        number = r"-?[0-9.]+ ± [0-9.]+"
        form = "drift_correction: {} read {n} {u} \\([0-9:]+ to [0-9:]+\\) in fresh air before " \
               "and {n} {u} \\([0-9:]+ to [0-9:]+\\) after, where {} was taken to be right; "
        self.assertRegex(oxygen, form.format("O2", "20.9 %", n=number, u="%") +
                         r"every O2 was multiplied by 1\.\d{4}, as if its sensitivity had "
                         r"changed; that its zero may have moved instead is in the ±$")
        self.assertRegex(monoxide, form.format("CO", "0 ppm", n=number, u="ppm") +
                         r"[0-9.]+ ppm was (added to|taken off) every CO; its sensitivity was "
                         r"not checked$")
        self.assertEqual(words_about_drift(self.settled(log=simulated(SCENARIO))), [])

    def test_one_look_at_fresh_air_corrects_nothing_and_says_so(self):
        log = without_its_end(simulated(SCENARIO))
        plain, asked = self.settled(log=log), self.settled(OPTION, log=log)
        self.assertEqual([e for e in events(plain) if e["event"] != "end"],
                         [e for e in events(asked) if e["event"] != "end"])
        for words, cell in zip(words_about_drift(asked), ("O2", "CO"), strict=True):
            self.assertRegex(words, f"^drift_correction: {cell} was not corrected: after the last "
                                    "fire no fresh air was seen; in fresh air before the test it "
                                    r"read .* ± .*, and what it drifted is unknown$")

    def test_nothing_reaches_across_a_break(self):
        log = simulated(SCENARIO)
        rows = log.splitlines(keepends=True)
        log = b"".join(rows[:700]) + b"# reconnect\n" + b"".join(rows[700:])
        asked = self.settled(OPTION, log=log)
        self.assertEqual([p for p in closed(asked) if "drift_corrected" in p["flags"]], [])
        words = words_about_drift(asked)
        self.assertEqual([w.split(" was not")[0] for w in words],
                         [f"drift_correction: in part {n} of the log {c}"
                          for n in (1, 2) for c in ("O2", "CO")])

    def test_what_is_found_is_found_of_the_indication(self):
        """A zero 12 ppm too low, and a burner whose CO is indicated above and corrected below the
        level of danger, 400 ppm; and the other way round."""
        def log_of(zero, co):
            air = "{},68,68,20.{},{}\n"
            rows = [air.format(t, 9 - t // 2 % 2, zero + t // 4 % 2) for t in range(0, 90, 2)]
            rows += [f"{t},{450 + t // 2 % 2},68,5.{t // 2 % 2},{co}\n" for t in range(90, 500, 2)]
            rows += [air.format(t, 9 - t // 2 % 2, zero + t // 4 % 2) for t in range(500, 640, 2)]
            return HEADER + "\n" + "".join(rows)

        def found(log):
            told = of_kind(self.settled(OPTION, log=log), "finding")
            return {e["finding"]: e for e in reversed(told)}  # the first of each

        low = found(log_of(-12, 395))
        self.assertAlmostEqual(low["zeroed_in_dirty_air"]["value"], -11.5, delta=1)
        self.assertEqual(low["co_high"]["severity"], "danger")
        self.assertAlmostEqual(low["co_high"]["value"], 406.5, delta=1)
        high = found(log_of(12, 405))
        self.assertEqual((high["co_high"]["severity"], high["co_high"]["value"]), ("danger", 405))

    def test_in_each_form_from_a_file_a_pipe_and_a_settings_file(self):
        log = simulated(SCENARIO)
        path = self.file("a.csv", log)
        settings = self.file("s.toml", "drift_correction = true\n")
        as_typed = run("settle", "--jsonl", OPTION, path).stdout
        self.assertEqual(as_typed, self.settled(OPTION, log=log))
        self.assertEqual(as_typed, self.settled("--settings", settings, log=log))
        (row, *_) = csv.DictReader(io.StringIO(run("settle", "--csv", OPTION,
                                                   path).stdout.decode()))
        first = closed(as_typed)[0]["readings"]
        for c in CELLS:
            self.assertAlmostEqual(float(row[f"{c}_correction"]), first[c]["correction"], 3)
        self.assertNotIn("co_ppm_correction", run("settle", "--csv", path).stdout.decode())
        words = run("settle", OPTION, path).stdout.decode()
        self.assertRegex(words, r"CO, ppm .*\n  as indicated +-?[0-9.]+ ")
        self.assertIn("what the correction leaves open", words)

    def test_in_hindsight_too(self):
        told = closed(self.settled(OPTION, "--finished", log=simulated(SCENARIO)))
        self.assertTrue(told)
        for p in told:
            self.assertIn("drift_corrected", p["flags"])
            self.assertIn("indicated", p["readings"]["co_ppm"])

    def test_a_live_log_is_not_corrected_and_that_is_said_once(self):
        path = self.file("log.csv", simulated(SCENARIO))
        settle = Running("settle", "--jsonl", OPTION, "--follow", path)
        self.addCleanup(settle.stop)
        settle.wait_for(b'"to_s":null')
        self.assertEqual(settle.finish(signal.SIGINT), 0, settle.complaints)
        self.assertEqual(len(re.findall(b"nothing is corrected for drift", settle.complaints)), 1)
        out = bytes(settle.out)
        self.assertFalse([p for p in closed(out) if "drift_corrected" in p["flags"]])
        (words,) = words_about_drift(out)
        self.assertIn("its end not known, so nothing was corrected", words)


if __name__ == "__main__":
    main()
