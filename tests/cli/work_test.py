# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The order of work: what a visit with planted faults is found to have, and a whole one not."""

from command import HEADER, CommandTest, main, of_kind, run, simulated

PLANTED = {"reading_too_early", "stack_cool", "draft_difference_high", "co_high",
           "smoke_not_repeated", "zero_without_trace"}


def found(log, *options):
    return of_kind(run("settle", "--jsonl", *options, log=log).stdout, "finding")


class Work(CommandTest):
    def test_planted_faults_are_found_and_nothing_else(self):
        for seed in (3, 6, 9):
            events = found(simulated("flawed_visit", seed))
            self.assertEqual({e["finding"] for e in events}, PLANTED, seed)
            by = {e["finding"]: e for e in events}
            self.assertAlmostEqual(by["co_high"]["value"], 140, delta=5)
            self.assertAlmostEqual(by["stack_cool"]["value"], 325, delta=10)
            self.assertAlmostEqual(by["draft_difference_high"]["value"], -0.08, delta=0.005)

    def test_a_whole_visit_has_none(self):
        for seed in (3, 6):
            self.assertEqual(found(simulated("whole_visit", seed)), [], seed)

    def test_without_notes_nothing_is_said_about_the_work(self):
        log = b"".join(line for line in simulated("flawed_visit", 3).splitlines(True)
                       if not line.startswith(b"#"))
        self.assertEqual({e["finding"] for e in found(log)},
                         {"stack_cool", "draft_difference_high", "co_high"})

    def test_form(self):
        by = {e["finding"]: e for e in found(simulated("flawed_visit", 3))}
        spot = by["zero_without_trace"]
        self.assertEqual((spot["quantity"], spot["value"], spot["u"], spot["severity"]),
                         ("smoke_number", 0, None, "warning"))
        self.assertIn("come first", spot["text"])
        early = by["reading_too_early"]
        self.assertEqual((early["quantity"], early["limit"]), ("stack_temp_degF_per_min", 3))
        self.assertGreater(early["value"], 30)

    def test_gas_is_not_asked_for_spots(self):
        kinds = {e["finding"] for e in found(simulated("flawed_visit", 3), "--fuel",
                                             "natural_gas")}
        self.assertFalse(kinds & {"smoke_not_repeated", "zero_without_trace"})

    def test_the_limit_on_smoke_is_the_callers(self):
        rows = [f"{t},450,68,5.{t // 2 % 2},{20 + t // 2 % 2}\n" for t in range(0, 600, 2)]
        rows[200] = "# smoke 1\n" + rows[200]
        log = HEADER + "\n" + "".join(rows)
        self.assertIn("smoke_high", [e["finding"] for e in found(log)])
        limits = self.folder / "limits.toml"
        limits.write_text("[limits]\nsmoke_high = 1\n")
        self.assertNotIn("smoke_high", [e["finding"] for e in found(log, "--limits", limits)])


class HandKit(CommandTest):
    """No stream: a thermometer, a smoke pump and an absorption kit, typed minute by minute."""

    ROWS = list(enumerate((380, 420, 446, 461, 470, 474, 476, 477, 477)))

    def log(self, *last):
        rows = [f"{t},{stack},{70 if t in (0, 8) else ''},{10.5 if t == 8 else ''}\n"
                for t, stack in self.ROWS]
        return ("# draft zeroed\ntime_min,stack_temp_degF,ambient_temp_degF,co2_pct\n" +
                "".join(rows) + "".join(last))

    def settle(self, log):
        return run("settle", "--jsonl", "--criterion", "hand_minutes", log=log).stdout

    def test_the_minute_rule_and_the_same_figures(self):
        out = self.settle(self.log())
        last = of_kind(out, "plateau")[-1]
        # 474 to 476 is the first step within 3 degF.
        self.assertEqual((last["declared_s"], last["from_s"], last["to_s"]), (360, 300, 480))
        self.assertAlmostEqual(last["readings"]["stack_temp_degF"]["value"], 476, delta=0.1)
        self.assertEqual(last["readings"]["co2_pct"]["value"], 10.5)
        # CO2 10.5 % of an oil whose most is about 15.5 %: O2 = 20.9 (1 - 10.5 / 15.5).
        self.assertAlmostEqual(last["derived"]["o2_pct"]["value"], 6.7, delta=0.1)
        self.assertIsNone(last["derived"]["co_air_free_ppm"]["value"])

    def test_the_same_rules(self):
        def kinds(*last):
            return {e["finding"] for e in of_kind(self.settle(self.log(*last)), "finding")}
        spot, moved = "# smoke trace\n", "# adjusted air\n"
        row = "{},470,,\n".format
        self.assertIn("step_missing", kinds())
        self.assertIn("zero_without_trace", kinds("# smoke 0\n"))
        self.assertNotIn("zero_without_trace", kinds(spot, "# smoke 0\n"))
        self.assertIn("smoke_not_repeated", kinds(spot, moved, row(9), row(10), row(11)))


if __name__ == "__main__":
    main()
