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


if __name__ == "__main__":
    main()
