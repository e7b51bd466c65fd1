# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Criteria by their name, and rules about readings of one's own. The logs are invented; the limits
are those of the texts that `stilling list criteria` names."""

import json
import re

from command import CommandTest, events, main, of_kind, run, start

HEADER = "time_min,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm"
STACKS = ("us_oil_heater", "us_gas_diverter", "us_gas_hood", "us_oil_furnace")
NAMES = STACKS + ("us_engine_co", "de_flue_loss", "instrument_warm_up", "hand_minutes")


def by_hand(stacks, minutes=15):
    """A row for each reading, as a person writes them down."""
    rows = (f"{i * minutes},{x},70,5.0,20" for i, x in enumerate(stacks))
    return "\n".join([HEADER, *rows]) + "\n"


def warming(seconds=2100, header="time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm"):
    """Lit at 60 s; at rest soon after."""
    lines = [header]
    for t in range(seconds):
        stack = 70 if t < 60 else round(500 - 430 * 0.99 ** (t - 60)) + t % 2
        lines.append(f"{t},{stack},70,{20.9 if t < 60 else 5.0},{0 if t < 60 else 20}")
    return "\n".join(lines) + "\n"


class Published(CommandTest):
    def declared(self, name, log, *words):
        plateaus = of_kind(run("settle", "--jsonl", "--criterion", name, *words, log=log).stdout,
                           "plateau")
        return plateaus[0]["declared_s"] if plateaus else None

    # 10 CFR 430 Subpart B App. O 3.1.1, 3.1.2; 10 CFR 431.76(b)(2) (2015 ed.): 5 degF, diverter 3.
    def test_readings_written_down_by_hand(self):
        for stacks, passes in (((540.0, 542.0, 543.0), STACKS),
                               ((540.0, 545.0, 543.0), set(STACKS) - {"us_gas_diverter"}),
                               ((540.1, 545.1, 543.0), set(STACKS) - {"us_gas_diverter"}),
                               ((540.0, 545.1, 543.0), ()), ((540.0, 543.0, 546.0), ())):
            for name in STACKS:
                with self.subTest(name=name, stacks=stacks):
                    self.assertEqual(self.declared(name, by_hand(stacks)),
                                     1800 if name in passes else None)

    def test_the_printed_degC_do_not_decide(self):
        log = by_hand((280.0, 282.79, 281.0)).replace("stack_temp_degF", "stack_temp_degC")
        self.assertIsNone(self.declared("us_oil_heater", log))
        self.assertEqual(self.declared("us_oil_heater", log.replace("282.79", "282.77")), 1800)

    def test_another_spacing_is_no_reading(self):
        self.assertIsNone(self.declared("us_oil_heater", by_hand([540] * 6, minutes=12)))

    # 1. BImSchV (26 Jan 2010) Annex 2 no. 3.1, 3.4.1: two minutes, then 30 s.
    def test_the_mean_after_two_minutes(self):
        out = run("settle", "--jsonl", "--criterion", "de_flue_loss", log=warming()).stdout
        first, last = of_kind(out, "plateau")
        self.assertEqual(last["end_reason"], "complete")
        lit = last["from_s"] - 120
        self.assertTrue(60 <= lit <= 70, lit)
        self.assertEqual((last["to_s"], last["declared_s"]), (lit + 149, lit + 150))
        self.assertEqual(last["readings"]["stack_temp_degF"]["n"], 30)
        self.assertEqual(first["declared_s"], last["declared_s"])
        self.assertIn("creeping", last["flags"])

    def test_a_channel_the_log_lacks_is_2_and_named(self):
        log = "\n".join(",".join(line.split(",")[:2]) for line in warming(300).splitlines())
        for name, channel in (("de_flue_loss", "o2"), ("us_engine_co", "co"),
                              ("instrument_warm_up", "co")):
            done = run("settle", "--criterion", name, log=log)
            self.assert_status(done, 2)
            self.assertIn(f"{name} asks for {channel}, but the log has no such column",
                          done.stderr.decode())

    def test_a_channel_the_criterion_says_nothing_of_is_2(self):
        done = run("settle", "--criterion", "us_oil_heater", "--require", "stack_temp,co",
                   log=warming(300))
        self.assert_status(done, 2)
        self.assertIn("--require: stack_temp, co will not do", done.stderr.decode())

    def test_what_is_not_judged_is_said(self):
        for name in NAMES:
            log = warming(300)
            end = of_kind(run("settle", "--jsonl", "--criterion", name, log=log).stdout, "end")[0]
            said = [a for a in end["assumptions"] if a.startswith(f"criterion: {name} is ")]
            self.assertEqual(len(said), 1, name)
            self.assertIn("taken to hold", said[0])

    def test_live_says_what_a_replay_says(self):
        log = warming(400).encode()
        for name in ("de_flue_loss", "us_engine_co"):
            words = ("settle", "--jsonl", "--criterion", name)
            replayed = run(*words, log=log).stdout
            self.assertGreaterEqual(len(of_kind(replayed, "plateau")), 1, name)
            live = start(*words)
            for at in range(0, len(log), 1013):
                live.stdin.write(log[at:at + 1013])
                live.stdin.flush()
            out, _ = live.communicate(timeout=60)
            self.assertEqual(out, replayed)

    def test_an_open_reading_comes_with_its_row(self):
        live = start("settle", "--jsonl", "--criterion", "us_oil_heater")
        lines = by_hand((540, 541, 542)).splitlines(keepends=True)
        for line in lines:
            live.stdin.write(line.encode())
        live.stdin.flush()
        seen = ""
        while '"plateau"' not in seen:  # ends with the pipe if it never comes
            line = live.stdout.readline().decode()
            self.assertTrue(line)
            seen = line
        self.assertIsNone(json.loads(seen)["to_s"])
        live.communicate(timeout=60)

    def test_verdicts_are_those_of_the_criterion(self):
        out = run("look", "verdicts", "--criterion", "us_oil_heater",
                  log=by_hand((540, 541, 548, 547, 546))).stdout.decode()
        is_said = [re.search(r"undecided|transient|steady", line)[0]
                   for line in out.splitlines()[1:]]
        self.assertEqual(is_said, ["undecided", "undecided", "transient", "transient", "steady"])


class OnesOwn(CommandTest):
    def settle(self, criterion, log):
        path = self.file("own.toml", "[criterion]\n" + criterion)
        return run("settle", "--jsonl", "--criterion", path, log=log)

    def declared(self, criterion, log):
        done = self.settle(criterion, log)
        self.assertIn(done.returncode, (0, 1), done.stderr.decode())
        plateaus = of_kind(done.stdout, "plateau")
        return plateaus[0]["declared_s"] if plateaus else None

    OIL = 'readings = 3\nspacing = "15 min"\n'

    def test_written_out_is_the_published_one(self):
        for limit, log in ((5, by_hand((540, 545, 543))), (5, by_hand((540, 545.1, 543)))):
            done = self.settle(self.OIL + f'tolerance = {{stack_temp = "{limit} degF"}}\n', log)
            named = run("settle", "--jsonl", "--criterion", "us_oil_heater", log=log)
            self.assertEqual([e for e in events(done.stdout) if e["event"] != "end"],
                             [e for e in events(named.stdout) if e["event"] != "end"])

    def test_each_key(self):
        log = by_hand((540, 543, 546, 546))
        within = 'tolerance = {stack_temp = "5 degF"}\n'
        self.assertEqual(self.declared(self.OIL + within, log), 2700)
        self.assertEqual(self.declared(self.OIL + within + 'variation = "successive"\n', log), 1800)
        self.assertEqual(self.declared(self.OIL + within + 'variation = "from_mean"\n', log), 1800)
        self.assertEqual(self.declared(self.OIL.replace("3", "2") + within, log), 900)
        self.assertEqual(self.declared(self.OIL + 'tolerance = ["stack_temp=6 degF"]\n', log), 1800)
        self.assertEqual(self.declared(self.OIL + within + 'waiting = "20 min"\n', log), None)
        self.assertEqual(self.declared(self.OIL + within + 'waiting = "15 min"\n', log), 2700)
        self.assertEqual(self.declared('readings = 3\nspacing = ["15 min", "30 min"]\n'
                                       'tolerance = {stack_temp = "6 degF"}\n', log), 2700)
        self.assertEqual(self.declared('based_on = "us_oil_heater"\n'
                                       'tolerance = {stack_temp = "6 degF"}\n', log), 1800)
        self.assertEqual(self.declared('based_on = "us_oil_heater"\nreadings = 2\n', log), 900)

    def test_a_mean_of_ones_own(self):
        out = self.settle('readings = 1\nmean = "60 s"\nwaiting = "5 min"\n', warming()).stdout
        last = of_kind(out, "plateau")[-1]
        self.assertEqual(last["declared_s"] - last["from_s"], 60)
        self.assertEqual(last["end_reason"], "complete")

    def test_means_as_readings(self):
        log = "time_s,stack_temp_degF,o2_pct\n" + "".join(
            f"{t},{500 + 10 * (t % 2)},5\n" for t in range(400))
        rule = 'readings = 3\nspacing = "60 s"\ntolerance = {stack_temp = "2 degF"}\n'
        own = rule + 'outlier_factor = 100\n'
        self.assertEqual(self.declared(own + 'mean = "20 s"\n', log), 140)

    def test_either_limit(self):
        log = "time_s,co_ppm,o2_pct\n" + "".join(
            f"{t},{x},5\n" for t, x in zip(range(0, 120, 15), (490, 510, *[500] * 6)))
        rule = 'readings = 8\nspacing = "15 s"\nvariation = "from_mean"\n'
        self.assertEqual(self.declared(rule + 'tolerance = {co = "1 ppm or 2 % of mean"}\n', log),
                         105)
        self.assertEqual(self.declared(rule + 'tolerance = {co = "2 % of mean"}\n', log), 105)
        self.assertIsNone(self.declared(rule + 'tolerance = {co = "1 ppm"}\n', log))

    def test_once_is_one_reading(self):
        rule = 'readings = 3\nspacing = "20 s"\ntolerance = {stack_temp = "5 degF"}\n'
        often = of_kind(self.settle(rule, warming()).stdout, "plateau")
        once = of_kind(self.settle(rule + "once = true\n", warming()).stdout, "plateau")
        self.assertEqual([e["end_reason"] for e in once], [None, "complete"])
        self.assertNotEqual(often[-1]["end_reason"], "complete")

    def test_what_makes_no_sense_is_told_by_line(self):
        for text, says in (
                ('spacing = "15 min"\n',
                 ":2: spacing: 15 min will not do; it must be said together with readings"),
                ("readings = 3\n", ":2: readings: 3 will not do; it must be given a spacing"),
                ('readings = 3\nspacing = "15 min"\n', ":2: readings: 3 will not do; it must be "
                                                       "given a tolerance for one channel"),
                ('based_on = "de_flue_loss"\nmean = "0 s"\n', ":3: mean: 0 s will not do"),
                ("once = true\n", ":2: once: on will not do; it must be said together"),
                ("readings = 1\n", ":2: readings: 1 will not do; it must be 2 or more, or given a "
                                   "mean"),
                ("readings = 11\n", ":2: readings: '11' is no whole number from 1 to 10"),
                ('readings = 3\nspacing = "0 s"\n', ":3: spacing: must be above 0"),
                (self.OIL + 'tolerance = {stack_temp = "5 degF"}\nmean = "16 min"\n',
                 ":5: mean: 16 min will not do; it must be no longer than the readings are apart"),
                (self.OIL + 'tolerance = {stack_temp = "5 ppm"}\n',
                 ":4: tolerance: '5 ppm' is no tolerance of stack_temp; write \"5 degF\""),
                (self.OIL + 'tolerance = {soot = "5 degF"}\n',
                 ":4: tolerance: 'soot' is no channel"),
                (self.OIL + 'tolerance = {stack_temp = 5}\n',
                 ':4: tolerance: \'stack_temp\' is a number; write tolerance = {"stack_temp" = "5 '
                 'degF"}'),
                (self.OIL + 'tolerance = {stack_temp = "1 % of mean"}\n',
                 ":4: tolerance: stack_temp=1 % of mean will not do; it must be no share"),
                (self.OIL + 'variation = "spread"\n', ":4: variation: 'spread' is none of range"),
                ('spacing = ["1 s", "1 s", "1 s", "1 s", "1 s", "1 s", "1 s", "1 s", "1 s", "1 s"]'
                 '\n', ":2: spacing: takes 9 times at most")):
            with self.subTest(text=text):
                done = self.settle(text, by_hand((540, 540, 540)))
                self.assert_status(done, 2)
                self.assertEqual(done.stdout, b"")
                self.assertIn(says, done.stderr.decode())


class Listed(CommandTest):
    def test_each_with_its_numbers_and_its_source(self):
        text = run("list", "criteria").stdout.decode()
        for name in NAMES:
            self.assertRegex(text, rf"(?m)^{name}: ")
        joined = re.sub(r"\s+", " ", text)
        for words in ("3 readings of stack_temp, 15 min apart: the lowest and the highest differ "
                      "by at most 5 degF Source: 10 CFR 430 Subpart B App. O 3.1.2 (2015 ed.)",
                      "at most 3 degF Source: 10 CFR 430 Subpart B App. O 3.1.1 (2015 ed.)",
                      "8 readings of co, 15 s apart: none is farther from their mean than the "
                      "larger of 1 ppm and 2 % of their mean",
                      "one mean of stack_temp and o2 over 30 s, 2 min after the fire was seen",
                      "4 readings of co, at 0, 2, 5 and 15 min"):
            self.assertIn(words, joined)
        self.assertLessEqual(max(map(len, text.splitlines())), 104)


if __name__ == "__main__":
    main()
