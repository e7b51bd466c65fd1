# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What settle finds: the form of the event, when it is told, and that it is told once."""

import re

from command import HEADER, CommandTest, main, of_kind, run


def log_of(rows):
    return HEADER + "\n" + "".join(rows)


def steady(co=20, stack=450, oxygen="5.{}", ends=600):
    """A row every two seconds of a burner that runs quietly."""
    return [f"{t},{stack + t // 2 % 2},68,{oxygen.format(t // 2 % 2)},{co + t // 2 % 2}\n"
            for t in range(0, ends, 2)]


def found(log, *options):
    done = run("settle", "--jsonl", *options, log=log)
    return of_kind(done.stdout, "finding")


class Findings(CommandTest):
    def test_a_sound_test_has_none(self):
        self.assertEqual(found(log_of(steady())), [])

    def test_form(self):
        (event,) = found(log_of(steady(co=140)))
        self.assertEqual(list(event), ["event", "time_s", "finding", "severity", "quantity",
                                       "value", "u", "limit", "basis", "limit_name",
                                       "straddles", "text"])
        self.assertEqual(event["finding"], "co_high")
        self.assertEqual(event["severity"], "warning")
        self.assertEqual(event["quantity"], "co_ppm")
        self.assertAlmostEqual(event["value"], 140.5, delta=0.5)
        self.assertEqual(event["limit"], 100)
        self.assertEqual(event["basis"], "common practice")
        self.assertIn("come first", event["text"])

    def test_dangerous_co_is_told_at_its_first_row(self):
        rows = steady()
        rows[100] = "200,450,68,5.0,450\n"
        (event,) = found(log_of(rows))
        self.assertEqual((event["time_s"], event["severity"]), (200, "danger"))
        self.assertEqual(event["value"], 450)

    def test_danger_goes_on_is_told_once_and_again_after_a_minute_without(self):
        rows = steady()
        for i in [*range(100, 110), *range(200, 205)]:
            rows[i] = f"{2 * i},450,68,5.0,450\n"
        self.assertEqual([f["time_s"] for f in found(log_of(rows)) if f["severity"] == "danger"],
                         [200, 400])

    def test_co_over_the_instruments_range_is_danger_without_a_value(self):
        rows = steady()
        rows[100] = "200,450,68,5.0,>2000\n"
        (event,) = found(log_of(rows))
        self.assertEqual((event["finding"], event["severity"]), ("co_high", "danger"))
        self.assertIsNone(event["value"])

    def test_co_in_the_room(self):
        air = [f"{t},68,68,20.9,{40 + t // 2 % 2}\n" for t in range(0, 60, 2)]
        kinds = {f["finding"] for f in found(log_of(["# 0 fresh air\n", *air]))}
        self.assertIn("co_in_room", kinds)

    def test_limits_of_a_plateau_are_told_once_for_it(self):
        events = found(log_of(steady(oxygen="8.{}", stack=320)))
        self.assertEqual([f["finding"] for f in events], ["oxygen_high", "stack_cool"])
        self.assertEqual(events[0]["time_s"], events[1]["time_s"])

    def test_values_are_in_the_units_shown(self):
        (event,) = found(log_of(steady(stack=320)), "--show", "degC")
        self.assertEqual(event["quantity"], "stack_temp_degC")
        self.assertAlmostEqual(event["limit"], 176.667, places=3)
        self.assertAlmostEqual(event["value"], 160.3, delta=0.2)

    def test_a_process_without_a_fire_is_not_held_against_burner_limits(self):
        self.assertEqual(found(log_of(steady(stack=320)), "--combustion-check", "off"), [])

    def test_words(self):
        text = run("settle", log=log_of(steady(co=140))).stdout.decode()
        self.assertRegex(text, r"warning: CO 140\.\d+ ± [0-9.]+ ppm; the limit is 100 ppm "
                               r"\(common practice\)\.")
        told = text[text.index("warning:"):text.index("settled reading")]
        self.assertTrue(all(len(line) <= 80 for line in told.splitlines()), told)
        self.assertNotRegex(text, re.compile(r"\bnan\b|None|null"))


if __name__ == "__main__":
    main()
