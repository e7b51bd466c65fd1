# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Real logs are scored as they should be: on answers whose marks are known."""

import unittest

import real_logs
from real_logs import Hold, Plateau


class Holds(unittest.TestCase):
    def test_a_held_rate_is_found_between_steps(self):
        series = [(30 * i, 100 if i < 20 else 102 if i < 30 else 200) for i in range(60)]
        found = real_logs.holds_of(series)
        self.assertEqual([(h.start, h.end, h.rate) for h in found],
                         [(0, 870, 100), (900, 1770, 200)])

    def test_a_ramp_is_no_hold(self):
        self.assertEqual(real_logs.holds_of([(30 * i, 100 + 5 * i) for i in range(60)]), [])

    def marks(self, *plateaus):
        stack = [(t, 100 + t / 6000) for t in range(0, 2000, 30)]
        holds = [Hold(0, 870, 100), Hold(900, 1770, 200)]
        _, right, asked = real_logs.judge_holds(holds, list(plateaus), 1770, stack)
        return {what: (right[what], asked[what]) for what in right}

    def test_one_plateau_for_each_hold_is_right(self):
        self.assertEqual(self.marks(Plateau(300, 200, 860, 930, "departed"),
                                    Plateau(1200, 1100, 1770, 1770, "end_of_log")),
                         {"settled": (2, 2), "kept": (2, 2), "ended": (1, 1)})

    def test_a_log_that_ends_with_its_hold_shows_no_end(self):
        late = Plateau(1200, 1100, 1770, 1770, "end_of_log")
        self.assertEqual(self.marks(late)["ended"], (0, 0))

    def test_always_settled_outlasts_the_step(self):
        self.assertEqual(self.marks(Plateau(0, 0, 1770, 1770, "end_of_log"))["ended"], (0, 1))

    def test_never_settled_and_given_up_count_against_it(self):
        self.assertEqual(self.marks()["settled"], (0, 2))
        self.assertEqual(self.marks(Plateau(300, 200, 400, 410, "departed"))["kept"], (0, 1))


if __name__ == "__main__":
    unittest.main()
