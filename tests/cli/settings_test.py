# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What is typed, said in a file instead; and what is wrong with it, by line."""

from command import HEADER, CommandTest, events, main, of_kind, run, steady_log


class SettingsTest(CommandTest):
    def settings(self, text, name="burner.toml"):
        return self.file(name, text)

    def settle(self, text, *words, log=None):
        return run("settle", "--jsonl", "--settings", self.settings(text), *words,
                   log=steady_log() if log is None else log)

    def refused(self, text, *says):
        """Status 2, nothing on standard output, and the words about each fault."""
        done = self.settle(text)
        self.assert_status(done, 2)
        self.assertEqual(done.stdout, b"")
        for words in says:
            self.assertIn(words, done.stderr.decode())
        return done.stderr.decode()


class SameAsTyped(SettingsTest):
    def same(self, text, *words, log):
        filed = self.settle(text, log=log)
        typed = run("settle", "--jsonl", *words, log=log)
        self.assertEqual(filed.stdout, typed.stdout)
        self.assertEqual(filed.returncode, typed.returncode)
        self.assertNotEqual(filed.stdout, run("settle", "--jsonl", log=log).stdout,
                            "this log does not show whether the setting was taken")

    def test_each_setting_does_what_its_option_does(self):
        plain = steady_log()
        foreign = plain.replace(HEADER, "epoch,Flue T,Room,O2 [%],CO [ppm]")
        timed = "time," + steady_log(header="stack_temp_degF,o2_pct,co_ppm", rows="{stack},5,20")
        timed = "\n".join(line if i == 0 else f"01/03 10h{i // 60:02}m{i % 60:02},{line}"
                          for i, line in enumerate(timed.splitlines())) + "\n"
        untimed = steady_log(header="stack_temp_degF,o2_pct,co_ppm", rows="{stack},5.{o2},20")
        bare = steady_log(header=None, rows="{t},{stack},x,5.{o2},20")
        labelled = steady_log(header=None, rows="time_s={t} T={stack}F O={o2}% C=20ppm")
        drafty = steady_log(header="time_s,stack_temp_degF,o2_pct,co_ppm,draft_breech_inH2O",
                            rows="{t},{stack},5,20,0.04")
        # Torn so that it looks whole: see options_test.
        torn = steady_log(100, 1000, header=None, rows="{t},{stack},5.{o2},20")[3:]
        sparse = HEADER + "\n" + "".join(f"{t},{450 + k % 2},68,5.{k % 2},20\n"
                                         for k, t in enumerate(range(0, 1200, 97)))
        rising = HEADER + "\n" + "".join(f"{t},{450 + t % 2},68,5.{t % 2},{20 + t // 3}\n"
                                         for t in range(300))
        comma = steady_log(header="time_s;stack_temp_degF;o2_pct;co_ppm",
                           rows="{t};450,{o2}00;5,1;20")
        table = """[reading]
columns = {"Flue T" = "stack_temp:degF", epoch = "time:s", Room = "ambient_temp:degF"}"""
        rules = ["--column", "Flue T=stack_temp:degF", "--column", "epoch=time:s",
                 "--column", "Room=ambient_temp:degF"]
        names = "time_s,stack_temp_degF,-,o2_pct,co_ppm"
        labels = "T=stack_temp:degF,O=o2:pct,C=co:ppm"
        for text, words, log in (
                (table, rules, foreign),
                ("[reading]\ncolumns = ['Flue T=stack_temp:degF', 'epoch=time:s', "
                 "'Room=ambient_temp:degF']", rules, foreign),
                (f"reading.fields = '{names}'", ["--fields", names], bare),
                (f"reading.fields = {names.split(',')}", ["--fields", names], bare),
                (f"reading.labels = '{labels}'", ["--labels", labels], labelled),
                ("reading.labels = {T = 'stack_temp:degF', O = 'o2:pct', C = 'co:ppm'}",
                 ["--labels", labels], labelled),
                ("reading.missing = [20, 999.0]", ["--missing", "20,999.0"], plain),
                ("reading.missing = 20.0", ["--missing", "20"], plain),
                ("[reading]\ntime_format = '%d/%m %Hh%Mm%S'\nyear = 2026",
                 ["--time-format", "%d/%m %Hh%Mm%S", "--year", "2026"], timed),
                ("reading.suction_positive = true", ["--suction-positive"], drafty),
                ("reading = {joined = true, fields = 'time_s,stack_temp_degF,o2_pct,co_ppm'}",
                 ["--joined", "--fields", "time_s,stack_temp_degF,o2_pct,co_ppm"], torn),
                ("reading.interval = '2 s'", ["--interval", "2s"], untimed),
                ("reading.interval = 0.5", ["--interval", "500ms"], untimed),
                ("reading.decimal = 'dot'", ["--decimal", "dot"], comma),
                ("reading.change_only = true", ["--change-only"], sparse),
                ("criterion = 'strict'", ["--criterion", "strict"], plain),
                ("require = ['stack_temp']", ["--require", "stack_temp"], rising),
                ("require = 'stack_temp, o2'", ["--require", "stack_temp,o2"],
                 plain.replace(",20\n", ",\n")),
                ("combustion_check = false", ["--combustion-check", "off"],
                 plain.replace(",5.", ",20.")),
                ("fuel = 'natural_gas'", ["--fuel", "natural_gas"], plain),
                ("method = 'app_o'", ["--method", "app_o"], plain),
                ("air_temp = '60degF'", ["--air-temp", "60degF"], plain),
                ("barometer = '24.9 inHg'", ["--barometer", "24.9inHg"], plain),
                ("show = ['degC']", ["--show", "degC"], plain)):
            with self.subTest(text=text):
                self.same(text + "\n", *words, log=log)

    def test_an_empty_file_changes_nothing(self):
        self.assertEqual(self.settle("").stdout, run("settle", "--jsonl", log=steady_log()).stdout)

    def test_look_takes_the_same_file(self):
        path = self.settings("fuel = 'propane'\nshow = 'degC'\n")
        done = run("look", "frames", "--settings", path, log=steady_log())
        self.assert_status(done, 0)
        self.assertIn(b"stack_temp_degC", done.stdout.splitlines()[0])


class TypedComesFirst(SettingsTest):
    def test_each_word_typed_stands_in_place_of_the_files(self):
        text = "fuel = 'propane'\n[reading]\nmissing = [20]\nsuction_positive = true\n"
        words = ["--fuel", "b20", "--missing", "999", "--suction-positive=off"]
        self.assertEqual(self.settle(text, *words).stdout,
                         run("settle", "--jsonl", *words, log=steady_log()).stdout)

    def test_what_is_not_typed_still_holds(self):
        done = self.settle("fuel = 'propane'\nshow = 'degC'\n", "--fuel", "b20")
        self.assertIn(b"stack_temp_degC", done.stdout)

    def test_what_is_typed_puts_out_what_it_excludes(self):
        rows = steady_log(header=None, rows="time_s={t} T={stack}F O={o2}% C=20ppm")
        labels = "T=stack_temp:degF,O=o2:pct,C=co:ppm"
        done = self.settle("reading.fields = 'time_s,stack_temp_degF'\n", "--labels", labels,
                           log=rows)
        self.assertEqual(done.stdout, run("settle", "--jsonl", "--labels", labels, log=rows).stdout)

    def test_a_typed_criterion_puts_out_the_whole_table(self):
        text = "[criterion]\nclaim_factor = 1\nstack_temp = '0.001 degF/min'\n"
        self.assert_status(self.settle(text), 1)
        self.assertEqual(self.settle(text, "--criterion", "strict").stdout,
                         run("settle", "--jsonl", "--criterion", "strict", log=steady_log()).stdout)


class WhatIsWrong(SettingsTest):
    def test_each_fault_is_told_by_line_key_and_remedy(self):
        for text, *says in (
                ("\nfule = 'b20'\n", "burner.toml:2: 'fule' is no setting; did you mean fuel?"),
                ("zzzzzz = 1\n", "burner.toml:1: 'zzzzzz' is no setting", "known are", "fuel",
                 "[reading]"),
                ("[reading]\ntime_zon = 'UTC'\n", ":2: 'time_zon' is no setting of [reading]; did "
                 "you mean time_zone?"),
                ("[readng]\nyear = 2020\n", ":1: 'readng' is no table; did you mean reading?"),
                ("year = 2020\n", ":1: year belongs under [reading]"),
                ("[reading]\nfuel = 'b20'\n", ":2: fuel does not belong under [reading]"),
                ("reading.joined = 'yes'\n", ":1: joined: this is text in quotes", "joined = true"),
                ("reading.year = true\n", ":1: year: this is true or false"),
                ("reading.year = 2020.5\n", ":1: year: '2020.5' is no whole number"),
                ("reading.year = 1850\n", ":1: year: '1850'", "1970 to 2200"),
                ("reading.interval = 0\n", ":1: interval: must be above 0"),
                ("reading.interval = 'soon'\n", ":1: interval: 'soon' is no number"),
                ("reading.interval = 10:00:00\n", ":1: interval: this is a date or a time"),
                ("reading.missing = ['n/a']\n", ":1: missing: 'n/a' is no number"),
                ("reading.missing = []\n", ":1: missing: the list is empty"),
                ("reading.missing = inf\n", ":1: missing: 'inf' is no number"),
                ("reading.missing = [[1]]\n", ":1: missing: the list holds a list"),
                ("reading.columns = ['x=soot:pct']\n", ":1: columns: 'x=soot:pct'",
                 "NAME=CHANNEL:UNIT"),
                ("[reading.columns]\nx = 3\n", ":1: columns: 'x' is a number", "stack_temp:degF"),
                ("reading.time_format = 'hello'\n", ":1: time_format: 'hello' names no hour"),
                ("reading.time_zone = 'Mars'\n", ":1: time_zone: 'Mars' is no time zone"),
                ("reading.decimal = 'point'\n", ":1: decimal: 'point' is none of dot, comma"),
                ("reading.fields = 'a,b'\n", ":1: fields: ", "time_s,stack_temp_degF,-,o2_pct"),
                ("reading.fields = 'stack_temp_degF'\n", ":1: fields: ", "--interval"),
                ("[reading]\nlabels = 'T=o2'\nfields = 'a'\n",
                 ":2: labels: makes no sense together with fields"),
                ("fuel = ['b20', 'b5']\n", ":1: fuel: this is a list", '"b20"'),
                ("fuel = 'coal'\n", ":1: fuel: 'coal' is none of", "no2_oil"),
                ("air_temp = 70\n", ":1: air_temp: write the unit behind it: 70degF"),
                ("barometer = '12 hPa'\n", ":1: barometer: ", "absolute pressure"),
                ("require = ['soot']\n", ":1: require: 'soot' is no channel", "list channels"),
                ("criterion = 'lax'\n", ":1: criterion: 'lax' is none of field, strict"),
                ("[criterion]\nstack_temp = '3 degF'\n", ":2: stack_temp: '3 degF' is no rate",
                 "3 degF/min"),
                ("[criterion]\no2 = 0.1\n", ":2: o2: '0.1' is no rate", "0.1 pct/min"),
                ("[criterion]\nco = '-5 ppm/min'\n", ":2: co: must be above 0"),
                ("[criterion]\nclaim_factor = 5\n", ":2: claim_factor: 5 will not do; it must be 1 "
                 "to 3"),
                ("[criterion]\nwindows = [300, 200]\n", ":2: windows: 300, 200 will not do",
                 "rising order"),
                ("[criterion]\nwindows = [1, 2, 3, 4, 5]\n", ":2: windows: takes 4 times at most"),
                ("[criterion]\nair_oxygen = '10 pct'\n", ":2: air_oxygen: 10 pct will not do; it "
                 "must be below air_oxygen"),
                ("[criterion]\nhistory = 99\n", ":2: history: 99 will not do; it must be 5 to 15"),
                ("fuel = \n", "burner.toml:1: "),
                ("fuel = 'b20'\nfuel = 'b5'\n", "burner.toml:2: ", "'fuel'")):
            with self.subTest(text=text):
                self.refused(text, *says)

    def test_all_faults_are_told_at_once_in_their_order(self):
        said = self.refused("fule = 1\n[reading]\ndecmal = 'dot'\njoined = 3\n")
        lines = [line for line in said.splitlines() if ".toml:" in line]
        self.assertEqual([line.split(".toml:")[1].split(":")[0] for line in lines], ["1", "3", "4"])

    def test_files_that_are_none(self):
        for path, says in ((self.folder / "none.toml", "No such file"), (self.folder, "directory"),
                           (self.file("long.toml", "# " + "x" * (1 << 20)), "longer than any")):
            done = run("settle", "--settings", path, log=steady_log())
            self.assert_status(done, 2)
            self.assertIn(says, done.stderr.decode())


class OwnCriterion(SettingsTest):
    RAMP = HEADER + "\n" + "".join(f"{t},{450 + t * 5 / 60:.2f},68,5.{t % 2},20\n"
                                   for t in range(600))

    def test_a_looser_limit_settles_on_a_ramp_and_a_tighter_one_does_not(self):
        self.assert_status(run("settle", log=self.RAMP), 1)  # 5 degF a minute
        for limit, status in (("8 degF/min", 0), ("4 degF/min", 1), ("4.4 K/min", 0),
                              ("480 degF/h", 0), ("0.04 Cel/s", 1), ("0.1 °C/s", 0)):
            with self.subTest(limit=limit):
                done = self.settle(f'[criterion]\nstack_temp = "{limit}"\n', log=self.RAMP)
                self.assert_status(done, status)

    def test_windows_for_rows_a_minute_apart(self):
        log = HEADER + "\n" + "".join(f"{60 * m},{450 + m % 2},68,5.{m % 2},20\n"
                                      for m in range(60))
        self.assert_status(run("settle", log=log), 1)
        done = self.settle("[criterion]\nwindows = ['5 min', '10 min', '15 min']\ngap = '3 min'\n",
                           log=log)
        self.assert_status(done, 0)
        last = of_kind(done.stdout, "plateau")[-1]
        self.assertEqual(last["to_s"], 3540)
        self.assertAlmostEqual(last["readings"]["stack_temp_degF"]["value"], 450.5, delta=0.2)
        # Not from fewer values than were asked for.
        self.assertGreaterEqual(last["declared_s"], 0.9 * 300)

    def test_a_file_of_its_own(self):
        text = "[criterion]\nbased_on = 'strict'\nclaim_factor = 1.2\n"
        path = self.file("mine.toml", text)
        own = run("settle", "--jsonl", "--criterion", path, log=steady_log())
        self.assertEqual(own.stdout, self.settle(text).stdout)
        for text, says in (("fuel = 'b20'\n", ":1: 'fuel' is no setting"),
                           ("claim_factor = 2\n", ":1: claim_factor belongs under [criterion]")):
            done = run("settle", "--criterion", self.file("other.toml", text), log=steady_log())
            self.assert_status(done, 2)
            self.assertIn(says, done.stderr.decode())
        done = run("settle", "--criterion", "lax", log=steady_log())
        self.assert_status(done, 2)
        self.assertIn(b"'lax' is neither one of those that `stilling list criteria` names, nor",
                      done.stderr)

    def test_based_on_comes_before_the_rest_wherever_it_stands(self):
        # 2.7 degF a minute in whole degrees: too near the limit of 3 for `strict`.
        ramp = HEADER + "\n" + "".join(f"{t},{round(450 + t * 2.7 / 60)},68,5.{t % 2},20\n"
                                       for t in range(400))
        self.assert_status(run("settle", "--criterion", "strict", log=ramp), 1)
        said = [self.settle(f"[criterion]\n{text}\n", log=ramp) for text in (
            "claim_factor = 3\nbased_on = 'strict'", "based_on = 'strict'\nclaim_factor = 3")]
        self.assert_status(said[0], 0)
        self.assertEqual(said[0].stdout, said[1].stdout)
        field = self.settle("[criterion]\nclaim_factor = 3\n", log=ramp)
        self.assertNotEqual(said[0].stdout, field.stdout)



if __name__ == "__main__":
    main()
