# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A forecast is asked for, labelled, and changes nothing else."""

import math
import random

from command import CommandTest, main, of_kind, run, simulated


def rising_log(tau=150, rise=350, seconds=900, slow=0, seed=1):
    """An invented stack temperature, heading for 70 + rise degF."""
    draw = random.Random(seed)
    lines = ["time_s,stack_temp_degF"]
    for t in range(seconds):
        y = 70 + rise * (1 - math.exp(-t / tau)) + slow * (1 - math.exp(-t / 700))
        lines.append(f"{t},{round(y + draw.gauss(0, 1))}")
    return ("\n".join(lines) + "\n").encode()


class Forecast(CommandTest):
    def forecasts(self, log):
        done = run("settle", "--forecast", "--jsonl", log=log)
        return of_kind(done.stdout, "forecast")

    def test_is_off_unless_asked_for(self):
        plain = run("settle", "--jsonl", log=simulated())
        self.assertNotIn(b'"forecast"', plain.stdout)
        with_it = run("settle", "--forecast", "--jsonl", log=simulated())
        rest = [line for line in with_it.stdout.splitlines() if b'"forecast"' not in line]
        self.assertLess(len(rest), len(with_it.stdout.splitlines()))
        self.assertEqual(rest, plain.stdout.splitlines())

    def test_tells_value_and_moment_with_intervals(self):
        said = self.forecasts(rising_log())
        self.assertGreater(len(said), 5)
        for a, b in zip(said, said[1:]):
            self.assertGreaterEqual(b["time_s"] - a["time_s"], 30)
        for event in said:
            self.assertEqual(event["confidence"], 0.9)
            x = event["channels"]["stack_temp_degF"]
            self.assertIn(x["fit"], ("if_no_slower_part", "single", "does_not_fit"))
            if x["fit"] == "does_not_fit":  # said wrongly of a few in a hundred
                continue
            self.assertLess(x["value_low"], x["value_high"])
            self.assertLessEqual(x["settles_at_low_s"], x["settles_at_high_s"])
            if event["time_s"] > 400:
                self.assertAlmostEqual(x["value"], 420, delta=4)
        # 60 * 350 / 150 e^(-t/150) = 3 at t = 150 ln(140 / 3).
        self.assertAlmostEqual(said[-1]["channels"]["stack_temp_degF"]["settles_at_s"],
                               150 * math.log(140 / 3), delta=20)

    def test_says_that_it_does_not_fit_and_no_value(self):
        said = self.forecasts(rising_log(tau=80, slow=60))
        refused = [x for x in (e["channels"]["stack_temp_degF"] for e in said)
                   if x["fit"] == "does_not_fit"]
        self.assertTrue(refused)
        for x in refused:
            self.assertIsNone(x["value"])
            self.assertIsNone(x["settles_at_s"])

    def test_for_a_person_it_is_conditional(self):
        text = run("settle", "--forecast", log=rising_log()).stdout.decode()
        self.assertRegex(" ".join(text.split()),
                         r"forecast: if no slower part follows, stack temperature \d+ °F "
                         r"\(\d+ to \d+\), within its limit at \d+:\d\d "
                         r"\(\d+:\d\d to \d+:\d\d\)")
        self.assertTrue(all(len(line) <= 100 for line in text.splitlines()))
        text = run("settle", "--forecast", log=rising_log(tau=80, slow=60)).stdout.decode()
        told = " ".join(text.split()).split("forecast:")[1:]
        refused = ["follows no single exponential" in line for line in told]
        self.assertIn(True, refused)
        self.assertFalse(refused[0], "there is nothing to take back")
        self.assertNotIn((True, True), zip(refused, refused[1:]), "once is enough")


if __name__ == "__main__":
    main()
