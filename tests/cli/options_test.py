# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Every option does what it says."""

from command import HEADER, CommandTest, main, of_kind, run, simulated, steady_log


def last_plateau(*words, log):
    found = of_kind(run("settle", "--jsonl", *words, log=log).stdout, "plateau")
    return found[-1] if found else None


class Reading(CommandTest):
    def test_fields_name_the_positions(self):
        rows = steady_log(header=None, rows="{t};{stack};ok;5,{o2};20")
        p = last_plateau("--fields", "time_s,stack_temp_degF,-,o2_pct,co_ppm", log=rows)
        self.assertAlmostEqual(p["readings"]["stack_temp_degF"]["value"], 450.5, delta=0.1)
        self.assertAlmostEqual(p["readings"]["o2_pct"]["value"], 5.05, delta=0.02)

    def test_column_explains_foreign_names(self):
        log = "Date,Clock,Gas T,Sauerstoff,CO roh\n" + "".join(
            f"2026-03-01,10:{t // 60:02}:{t % 60:02},{450 + t % 2},5.{t % 2},20\n"
            for t in range(300))
        words = ["--column", "Gas T=stack_temp:degF", "--column", "Sauerstoff=o2:pct",
                 "--column", "CO roh=co:ppm", "--column", "Date+Clock=time"]
        p = last_plateau(*words, log=log)
        self.assertAlmostEqual(p["readings"]["stack_temp_degF"]["value"], 450.5, delta=0.1)
        self.assertEqual(p["to_s"], 1772359200 + 299)  # 2026-03-01T10:00:00Z
        millis = last_plateau("--column", "epoch=time:ms", log=steady_log(
            header="epoch,stack_temp_degF,o2_pct,co_ppm", rows="{t}000,{stack},5.{o2},20"))
        self.assertEqual(millis["to_s"], 299)
        done = run("settle", "--column", "Gas T=soot:pct", log=log)
        self.assert_status(done, 2)
        self.assertIn(b"NAME=CHANNEL:UNIT", done.stderr)

    def test_labels_read_values_that_say_what_they_are(self):
        rows = "".join(f"time_s={t} T={450 + t % 2}F O2=5.{t % 2}% CO=20ppm\n" for t in range(300))
        labels = "T=stack_temp:degF,O2=o2:pct,CO=co:ppm"
        p = last_plateau("--labels", labels, log=rows)
        self.assertAlmostEqual(p["readings"]["o2_pct"]["value"], 5.05, delta=0.02)
        self.assert_status(run("settle", log=rows), 2)

    def test_missing_numbers_are_no_values(self):
        log = steady_log().replace(",20\n", ",999.0\n")
        self.assertIsNone(last_plateau("--missing", "999.0,-3276.8", log=log))
        p = last_plateau("--missing", "-3276.8", log=log)
        self.assertEqual(p["readings"]["co_ppm"]["value"], 999)
        self.assert_status(run("settle", "--missing", "nothing", log=log), 2)

    def test_time_format_and_year(self):
        log = "time,stack_temp_degF,o2_pct,co_ppm\n" + "".join(
            f"01/03 10h{t // 60:02}m{t % 60:02},{450 + t % 2},5.{t % 2},20\n" for t in range(300))
        words = ["--time-format", "%d/%m %Hh%Mm%S"]
        p = last_plateau(*words, "--year", "2026", log=log)
        self.assertEqual(p["to_s"], 1772359200 + 299)
        self.assert_status(run("settle", *words, "--year", "26", log=log), 2)

    def test_suction_positive(self):
        log = steady_log(header="time_s,stack_temp_degF,o2_pct,co_ppm,draft_breech_inH2O",
                         rows="{t},{stack},5.{o2},20,0.04")
        for words, sign in (([], 1), (["--suction-positive"], -1)):
            draft = last_plateau(*words, log=log)["readings"]["draft_breech_inH2O"]["value"]
            self.assertAlmostEqual(draft, sign * 0.04, delta=0.0001)

    def test_joined_does_not_trust_the_first_line(self):
        # "1000,450,…" torn to a row that looks whole.
        rows = steady_log(100, 1000, header=None, rows="{t},{stack},5.{o2},20")[3:]
        names = ["--fields", "time_s,stack_temp_degF,o2_pct,co_ppm"]
        said = [of_kind(run("settle", "--jsonl", *names, *words, log=rows).stdout, "end")[0]
                for words in ([], ["--joined"])]
        self.assertEqual((said[0]["frames"], said[1]["frames"]), (100, 99))
        self.assertEqual((said[1]["rows"], said[1]["rejected"]), (100, {"incomplete": 1}))

    def test_interval_spaces_rows_without_a_time(self):
        log = steady_log(100, header="stack_temp_degF,o2_pct,co_ppm", rows="{stack},5.{o2},20")
        for interval, to_s in (("2s", 198), ("500ms", 49.5), ("0.05min", 297)):
            p = last_plateau("--interval", interval, log=log)
            if to_s < 60:
                self.assertIsNone(p)
            else:
                self.assertEqual(p["to_s"], to_s)

    def test_change_only_takes_a_missing_row_for_no_change(self):
        sparse = HEADER + "\n" + "".join(f"{t},{450 + k % 2},68,5.{k % 2},20\n"
                                         for k, t in enumerate(range(0, 1200, 97)))
        self.assertIsNone(last_plateau(log=sparse))
        out = run("settle", "--jsonl", "--change-only", log=sparse).stdout
        self.assertIsNotNone(of_kind(out, "plateau")[-1]["to_s"])
        end = of_kind(out, "end")[0]
        self.assertEqual((end["rows"], end["frames"]), (13, 13))
        self.assertTrue(any(a.startswith("change_only: ") for a in end["assumptions"]))

    def test_decimal_decides_what_the_log_leaves_open(self):
        log = steady_log(header="time_s;stack_temp_degF;o2_pct;co_ppm",
                         rows="{t};450,{o2}00;5,1;20")
        comma = last_plateau("--decimal", "comma", log=log)
        self.assertAlmostEqual(comma["readings"]["stack_temp_degF"]["value"], 450.05, delta=0.02)
        dot = run("settle", "--jsonl", "--decimal", "dot", log=log).stdout
        self.assertNotEqual(of_kind(dot, "end")[0]["rejected"], {})


class Judging(CommandTest):
    def test_strict_is_harder_to_please(self):
        # 2.7 degF a minute in whole degrees: below the limit of 3, but not by much.
        ramp = [HEADER] + [f"{t},{round(450 + t * 2.7 / 60)},68,5.{t % 2},20" for t in range(400)]
        ramp = "\n".join(ramp) + "\n"
        self.assertIsNotNone(last_plateau("--criterion", "field", log=ramp))
        self.assertIsNone(last_plateau("--criterion", "strict", log=ramp))

    def test_require_names_what_must_hold_still(self):
        rising = [HEADER] + [f"{t},{450 + t % 2},68,5.{t % 2},{20 + t // 3}" for t in range(300)]
        rising = "\n".join(rising) + "\n"
        self.assertIsNone(last_plateau(log=rising))
        self.assertIsNotNone(last_plateau("--require", "stack_temp,o2", log=rising))
        self.assertIsNone(last_plateau("--require", "co", log=rising))

    def test_combustion_check_off_settles_without_a_fire(self):
        cold = steady_log(rows="{t},{stack},68,20.{o2},0")
        self.assertIsNone(last_plateau(log=cold))
        self.assertIsNone(last_plateau("--combustion-check", "on", log=cold))
        self.assertIsNotNone(last_plateau("--combustion-check", "off", log=cold))

    def test_a_log_without_oxygen_is_not_asked_for_a_fire(self):
        hood = steady_log(header="time_s,stack_temp_degF", rows="{t},{stack}").replace(",45", ",8")
        self.assertIsNotNone(last_plateau(log=hood))
        self.assertIsNone(last_plateau("--combustion-check", "on", log=hood))


class Figures(CommandTest):
    def derived(self, *words):
        return last_plateau(*words, log=steady_log())["derived"]

    def test_fuel(self):
        oil, gas = self.derived(), self.derived("--fuel", "natural_gas")
        self.assertGreater(oil["co2_pct"]["value"], gas["co2_pct"]["value"] + 2)
        self.assertEqual(oil, self.derived("--fuel", "no2_oil"))

    def test_method(self):
        app_o = self.derived("--method", "app_o")
        self.assertIsNotNone(app_o["efficiency_gross_pct"]["value"])
        self.assertIsNone(app_o["efficiency_net_pct"]["value"])
        siegert = self.derived("--method", "siegert")
        self.assertIsNone(siegert["efficiency_gross_pct"]["value"])
        # 1. BImSchV: (450.5 - 68) degF x (0.68/(21 - 5.05) + 0.007), in kelvins; by hand.
        loss = (450.5 - 68) / 1.8 * (0.68 / (21 - 5.05) + 0.007)
        self.assertAlmostEqual(siegert["efficiency_net_pct"]["value"], 100 - loss, delta=0.05)

    def test_air_temperature(self):
        for typed in ("32degF", "0degC", "273.15K"):
            net = self.derived("--air-temp", typed)["net_stack_temp_degF"]
            self.assertAlmostEqual(net["value"], 450.5 - 32, delta=0.1)
        self.assertGreater(self.derived("--air-temp", "32degF")["net_stack_temp_degF"]["u"],
                           self.derived("--air-temp", "32.00degF")["net_stack_temp_degF"]["u"])

    def test_barometer(self):
        sea, mountain = self.derived(), self.derived("--barometer", "24.9inHg")
        self.assertLess(mountain["dew_point_degF"]["value"], sea["dew_point_degF"]["value"] - 5)
        self.assertEqual(sea["efficiency_gross_pct"], mountain["efficiency_gross_pct"])
        self.assertEqual(self.derived("--barometer", "843hPa")["dew_point_degF"]["value"],
                         self.derived("--barometer", "84.3kPa")["dew_point_degF"]["value"])

    def test_show_converts_and_changes_nothing_else(self):
        own = last_plateau(log=simulated())
        other = last_plateau("--show", "degC,Pa", log=simulated())
        self.assertAlmostEqual(other["readings"]["stack_temp_degC"]["value"],
                               (own["readings"]["stack_temp_degF"]["value"] - 32) / 1.8, delta=0.01)
        self.assertAlmostEqual(other["readings"]["stack_temp_degC"]["u"],
                               own["readings"]["stack_temp_degF"]["u"] / 1.8, delta=0.001)
        self.assertAlmostEqual(other["readings"]["draft_breech_Pa"]["value"],
                               own["readings"]["draft_breech_inH2O"]["value"] * 249.08891,
                               delta=0.1)
        self.assertEqual(other["readings"]["o2_pct"], own["readings"]["o2_pct"])
        self.assertIn("net_stack_temp_degC", other["derived"])
        self.assertIn("draft_difference_Pa", other["derived"])

    def test_verbose_shows_every_figure(self):
        brief = run("settle", log=simulated()).stdout
        full = run("settle", "--verbose", log=simulated()).stdout
        self.assertNotIn(b"air ratio", brief)
        self.assertIn(b"air ratio", full)


if __name__ == "__main__":
    main()
