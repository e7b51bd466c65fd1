# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Judged in hindsight: the same events, the whole log known, in agreement with the live rule."""

from command import CommandTest, events, main, of_kind, run, simulated

LEAST_S = 60          # live plateaus shorter than this are not asked for
HALF_WINDOW_S = 90    # the longest window is 180 s
SHARE = 0.8           # of the declared seconds of all live plateaus that hindsight holds too


def closed(out):
    """Plateaus, each as its last line tells it."""
    return list({p["declared_s"]: p for p in of_kind(out, "plateau")}.values())


class Finished(CommandTest):
    def judged(self, *words, log):
        done = run("settle", "--jsonl", *words, log=log)
        self.assertIn(done.returncode, (0, 1), done.stderr)
        return done.stdout

    def test_agrees_with_the_live_rule_on_invented_tests(self):
        live_s = both_s = late = plateaus = 0
        for scenario in ("first_visit", "air_adjustments", "cold_start", "probe_slips",
                         "short_cycling", "hunting"):
            for seed in (1, 2, 3):
                log = simulated(scenario, seed)
                hindsight = closed(self.judged("--finished", log=log))
                for p in closed(self.judged(log=log)):
                    length = p["to_s"] - p["declared_s"]
                    if length < LEAST_S:
                        continue
                    shared = [(min(p["to_s"], h["to_s"]) - max(p["declared_s"], h["declared_s"]),
                               h["declared_s"]) for h in hindsight]
                    most, declared = max(shared, default=(0, 0))
                    plateaus += 1
                    live_s += length
                    both_s += max(0, most)
                    late += declared > p["declared_s"] + HALF_WINDOW_S
        self.assertGreater(plateaus, 20)
        self.assertGreaterEqual(both_s, SHARE * live_s)
        self.assertEqual(late, 0)

    def test_tells_all_in_the_order_of_time(self):
        told = events(self.judged("--finished", log=simulated()))
        self.assertEqual([told[0]["event"], told[-1]["event"]], ["begin", "end"])
        times = [e["time_s"] for e in told if e["event"] in ("phase", "finding")]
        self.assertEqual(times, sorted(times))
        self.assertGreater(len(of_kind(self.judged("--finished", log=simulated()), "plateau")), 2)
        self.assertEqual(told[-1]["plateaus"], len(closed(self.judged("--finished",
                                                                      log=simulated()))))

    def test_in_each_form_and_for_many_logs(self):
        one, two = self.file("a.csv", simulated()), self.file("b.csv", simulated(seed=8))
        rows = run("settle", "--csv", "--finished", one, two)
        self.assert_status(rows, 0)
        lines = rows.stdout.decode().splitlines()
        self.assertTrue(lines[0].startswith("file,declared_s"))
        self.assertEqual({line.split(",")[0] for line in lines[1:]}, {str(one), str(two)})
        self.assertIn("settled reading", run("settle", "--finished", one).stdout.decode())
        done = run("settle", "--finished", "--out", self.folder / "out", "--jobs", 2, one, two)
        self.assert_status(done, 0)
        for name in ("a", "b"):
            text = (self.folder / "out" / f"{name}.out.jsonl").read_bytes()
            self.assertTrue(closed(text))

    def test_a_clock_that_goes_back_parts_what_is_told(self):
        log = simulated() + simulated().split(b"\n", 1)[1]
        told = events(self.judged("--finished", log=log))
        self.assertEqual([e["kind"] for e in told if e["event"] == "break"], ["clock_back"])
        at = [e["event"] for e in told].index("break")
        for part in (told[:at], told[at:]):
            self.assertTrue([e for e in part if e["event"] == "plateau"])

    def test_is_refused_where_it_makes_no_sense(self):
        done = run("settle", "--finished", "--forecast", log=simulated())
        self.assert_status(done, 2)
        self.assertIn(b"--forecast looks ahead", done.stderr)
        log = self.file("a.csv", simulated())
        done = run("settle", "--finished", "--follow", log)
        self.assert_status(done, 2)
        self.assertIn(b"have an end", done.stderr)


if __name__ == "__main__":
    main()
