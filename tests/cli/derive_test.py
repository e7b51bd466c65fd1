# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Figures from readings typed by hand: units, uncertainty, fuels, limits and an instrument of one's
own, what is refused and how.
"""

import csv
import io
import json
import math
import re

from command import CommandTest, main, of_kind, run, steady_log

OIL = ("--fuel", "no2_oil")
TEST = (*OIL, "--o2", "5.0", "--stack", "480degF", "--air", "70degF", "--co", "20")
STEP = 1 / math.sqrt(12)  # standard uncertainty of a last digit, JCGM 100 F.2.2.1


class DeriveTest(CommandTest):
    def derive(self, *words):
        done = run("derive", *words, "--json")
        self.assert_status(done, 0)
        self.assertEqual(done.stderr, b"")
        return json.loads(done.stdout)

    def figure(self, key, *words):
        return self.derive(*words)["derived"][key]["value"]

    def assert_refused(self, words, *says):
        done = run("derive", *words)
        self.assert_status(done, 2)
        for text in says:
            self.assertIn(text, done.stderr.decode())
        return done


class Figures(DeriveTest):
    def test_the_contract(self):
        said = self.derive(*TEST)
        self.assertEqual(list(said), ["inputs", "derived", "findings"])
        self.assertEqual(said["inputs"]["fuel"], "no2_oil")
        self.assertEqual(said["inputs"]["o2_pct"]["value"], 5)
        self.assertEqual(said["findings"], [])
        keys = ("net_stack_temp_degF", "co2_pct", "excess_air_pct", "excess_air_exact_pct",
                "air_ratio", "co_air_free_ppm", "dry_gas_loss_pct", "latent_loss_pct",
                "co_loss_pct", "stack_loss_gross_pct", "stack_loss_net_pct",
                "efficiency_gross_pct", "efficiency_net_pct", "dew_point_degF")
        for key in keys:
            self.assertEqual(list(said["derived"][key]), ["value", "u", "formula"], key)
        self.assertEqual(said["derived"]["draft_difference_inH2O"],
                         {"value": None, "reason": "draft_absent"})
        self.assertNotIn("o2_pct", said["derived"])
        # 100 x 5/(20.9 - 5), definition
        self.assertAlmostEqual(said["derived"]["excess_air_pct"]["value"], 31.4465, delta=0.0005)

    def test_carbon_monoxide_air_free(self):
        # training page: 87 ppm at 5 % O2 is 114 ppm; recomputed 114.3585
        self.assertAlmostEqual(self.figure("co_air_free_ppm", *OIL, "--o2", "5+-0.0001", "--co",
                                           "87+-0.0001"), 114.3585, delta=0.0005)

    def test_every_unit_gives_the_same(self):
        own = self.derive(*TEST, "--draft-breech", "-0.04inH2O")["derived"]
        for words in (("--o2", "0.05fraction", "--co", "0.0020pct", "--stack", "522.0389K",
                       "--air", "294.2611K"),
                      ("--o2", "50000ppm", "--co", "0.00002fraction", "--stack", "248.889degC",
                       "--air", "21.111degC"),
                      ("--o2", "5.0%", "--co", "20[ppm]", "--stack", "480[degF]", "--air", "70°F")):
            other = self.derive(*OIL, *words, "--show", "degF")["derived"]
            for key, figure in own.items():
                if figure["value"] is not None:
                    self.assertAlmostEqual(other[key]["value"], figure["value"], msg=key,
                                           delta=0.002 + 1e-4 * abs(figure["value"]))
        for draft in ("-9.9636Pa", "-0.099636hPa", "-0.099636mbar", "-1.016mmH2O",
                      "-0.04[in_i'H2O]"):
            said = self.derive(*OIL, "--draft-breech", draft, "--draft-overfire", "0Pa", "--show",
                               "inH2O")
            self.assertAlmostEqual(said["derived"]["draft_difference_inH2O"]["value"], -0.04,
                                   delta=1e-5, msg=draft)

    def test_carbon_dioxide_stands_for_oxygen(self):
        co2 = self.figure("co2_pct", *TEST)
        words = (*OIL, "--co2", f"{co2}+-0.1", "--stack", "480degF", "--air", "70degF",
                 "--co", "20")
        said = self.derive(*words)["derived"]
        self.assertAlmostEqual(said["o2_pct"]["value"], 5.0, delta=0.01)
        self.assertAlmostEqual(said["efficiency_gross_pct"]["value"],
                               self.figure("efficiency_gross_pct", *TEST), delta=0.02)

    def test_uncertainty_as_typed(self):
        for typed, u in (("5.0", 2 * 0.1 * STEP), ("5", 2 * STEP), ("5.00", 2 * 0.01 * STEP),
                         ("5.0±0.2", 0.2), ("5.0+-0.2", 0.2), ("5.0 +/- 0.2 %", 0.2),
                         ("5.0 % +- 0.2 %", 0.2)):
            said = self.derive(*OIL, "--o2", typed)
            self.assertAlmostEqual(said["inputs"]["o2_pct"]["u"], u, delta=0.006 * u, msg=typed)
            # d/dO2 of 100 O2/(20.9 - O2) is 100 x 20.9/(20.9 - O2)^2
            self.assertAlmostEqual(said["derived"]["excess_air_pct"]["u"], u * 2090 / 15.9 ** 2,
                                   delta=0.006 * u * 8.3, msg=typed)
        self.assert_refused((*OIL, "--stack", "480degF+-2degC"), "one unit for both")
        self.assert_refused((*OIL, "--o2", "5+--1"), "0 or more")

    def test_moist_air_and_the_barometer(self):
        dry = self.derive(*TEST)["derived"]
        wet = self.derive(*TEST, "--humidity", "60%")["derived"]
        self.assertGreater(wet["dew_point_degF"]["value"], dry["dew_point_degF"]["value"] + 1)
        self.assertLess(wet["efficiency_gross_pct"]["value"], dry["efficiency_gross_pct"]["value"])
        high = self.derive(*TEST, "--altitude", "5000ft")
        # US Standard Atmosphere 1976: 843.07 hPa at 5000 ft
        self.assertAlmostEqual(high["inputs"]["barometer_Pa"]["value"], 84307, delta=5)
        self.assertLess(high["derived"]["dew_point_degF"]["value"], dry["dew_point_degF"]["value"])
        self.assert_refused((*TEST, "--altitude", "5000ft", "--barometer", "1000hPa"),
                            "makes no sense together")

    def test_draft(self):
        # 30 ft, 60 and 400 degF at 101325 Pa: 0.1741 inH2O, recomputed
        said = self.derive(*OIL, "--stack", "400degF", "--height", "30ft", "--outdoor", "60degF")
        self.assertAlmostEqual(said["derived"]["draft_theoretical_inH2O"]["value"], -0.1741,
                               delta=0.0005)
        zero = self.derive(*OIL, "--draft-breech", "-0.038inH2O", "--draft-overfire", "-0.013inH2O",
                           "--draft-zero", "0.002inH2O")["inputs"]
        self.assertAlmostEqual(zero["draft_breech_inH2O"]["value"], -0.04, delta=1e-9)
        self.assertAlmostEqual(zero["draft_overfire_inH2O"]["value"], -0.015, delta=1e-9)
        self.assert_refused((*OIL, "--stack", "400degF", "--height", "30ft"), "--outdoor")

    def test_methods(self):
        # 10 CFR 430 App. O, No. 2 oil, CO2 9 %, net 400 degF: 80.27; printed to two decimals
        words = (*OIL, "--co2", "9+-0.0001", "--stack", "470degF", "--air", "70degF", "--method")
        self.assertAlmostEqual(self.figure("efficiency_gross_pct", *words, "app_o"), 80.2723,
                               delta=0.005)
        # 1. BImSchV, heating oil EL, 200 K, 5 %: 9.9
        words = (*OIL, "--o2", "5+-0.0001", "--stack", "220degC", "--air", "20degC", "--method")
        said = self.derive(*words, "siegert")["derived"]
        self.assertAlmostEqual(said["stack_loss_net_pct"]["value"], 9.9, delta=0.0005)
        self.assertEqual(said["stack_loss_rounded_pct"]["value"], 10)
        self.assertEqual(said["efficiency_gross_pct"], {"value": None, "reason": "other_basis"})


class Nonsense(DeriveTest):
    def test_is_refused_by_name(self):
        for words, name, figure in (
                (("--o2", "-0.5"), "oxygen_negative", "excess_air_pct"),
                (("--o2", "20.9"), "oxygen_at_air", "excess_air_pct"),
                (("--o2", "24"), "oxygen_at_air", "co2_pct"),
                (("--o2", "5", "--stack", "60degF", "--air", "70degF"), "stack_not_above_air",
                 "efficiency_gross_pct"),
                (("--co2", "15.8"), "co2_above_maximum", "excess_air_pct"),
                (("--co2", "0"), "co2_near_zero", "excess_air_pct"),
                (("--o2", "5", "--co", "-40"), "co_negative", "co_air_free_ppm"),
                (("--o2", "5", "--stack", "900degC", "--air", "20degC"),
                 "temperature_out_of_range", "efficiency_gross_pct")):
            with self.subTest(words=words):
                done = self.assert_refused((*OIL, *words, "--json"), name)
                said = json.loads(done.stdout)
                self.assertEqual(said["derived"][figure], {"value": None, "reason": name})

    def test_more_than_the_whole_is_a_wrong_basis(self):
        # 3 MJ/kg is no fuel's gross heating value: more heat leaves than was there.
        path = self.file("poor.toml", '[fuel]\ncarbon = "87 %"\nhydrogen = "13 %"\n'
                                      'gross_heating_value = "3 MJ/kg"\n')
        done = self.assert_refused(("--fuel", path, *TEST[2:], "--json"), "above_whole")
        said = json.loads(done.stdout)["derived"]
        for key in ("efficiency_gross_pct", "efficiency_net_pct", "stack_loss_gross_pct"):
            self.assertEqual(said[key], {"value": None, "reason": "above_whole"})

    def test_near_air_is_withheld_and_no_fault_of_the_person(self):
        said = self.derive(*OIL, "--o2", "20.5", "--co", "10")["derived"]
        self.assertEqual(said["excess_air_pct"], {"value": None, "reason": "oxygen_near_air"})
        self.assertEqual(said["co_air_free_ppm"], {"value": None, "reason": "oxygen_near_air"})

    def test_words_that_mean_nothing(self):
        done = self.assert_refused(("--o2", "5"), "which fuel", "no2_oil", "butane")
        self.assertEqual(done.stdout, b"")
        for words, says in (
                (("--fuel", "coal", "--o2", "5"), "'coal' is neither one of no1_oil"),
                ((*OIL,), "--o2"),
                ((*OIL, "--stack", "480"), "--stack: write the unit behind it: degF, degC or K"),
                ((*OIL, "--stack", "480degX"), "'degX' is no unit of stack_temp"),
                ((*OIL, "--o2", "5 degF"), "'degF' is no unit of o2"),
                ((*OIL, "--draft-breech", "0.04"), "inH2O, Pa"),
                ((*OIL, "--o2", "five"), "'five' is no number"),
                ((*OIL, "--o2", "500"), "no o2 is"),
                ((*OIL, "--stack", "99999degF"), "no stack_temp is"),
                ((*OIL, "--o2", "5", "--smoke", "12"), "from 0 to 9"),
                ((*OIL, "--o2", "5", "--humidity", "140%"), "0 to 100 %"),
                ((*OIL, "--o2", "5", "--barometer", "3inHg"), "no barometer shows that"),
                ((*OIL, "--o2", "5", "--method", "best"), "'best' is none of composition"),
                ((*OIL, "--o2", "3..9"), "--table")):
            with self.subTest(words=words):
                done = self.assert_refused(words, says)
                self.assertEqual(done.stdout, b"")


class OwnFuel(DeriveTest):
    def fuel(self, text):
        return self.file("own.toml", "[fuel]\n" + text)

    def test_by_ultimate_analysis(self):
        # CH1.80 as mass fractions, with the heating value of No. 2 oil, is No. 2 oil
        path = self.fuel('carbon = "86.8763 %"\nhydrogen = "13.1237±0.4 %"\n'
                         'gross_heating_value = "19500±195 Btu/lb"\n')
        words = TEST[2:]
        own = self.derive("--fuel", path, *words)["derived"]
        table = self.derive(*TEST)["derived"]
        for key in ("co2_pct", "excess_air_exact_pct", "efficiency_gross_pct", "dew_point_degF"):
            self.assertAlmostEqual(own[key]["value"], table[key]["value"], delta=0.002, msg=key)
            self.assertAlmostEqual(own[key]["u"], table[key]["u"], delta=0.01 * table[key]["u"],
                                   msg=key)

    def test_net_or_estimated_heating_value(self):
        parts = 'carbon = "87 %"\nhydrogen = "13 %"\n'
        # 13 % hydrogen makes 64.484 mol/kg of water: 2.8375 MJ/kg latent, ATcT
        net = self.fuel(parts + 'net_heating_value = "42.5625 MJ/kg"\n')
        a = self.figure("efficiency_gross_pct", "--fuel", net, *TEST[2:])
        gross = self.fuel(parts + 'gross_heating_value = "45.4000 MJ/kg"\n')
        self.assertAlmostEqual(a, self.figure("efficiency_gross_pct", "--fuel", gross, *TEST[2:]),
                               delta=0.002)
        estimated = self.fuel(parts)
        page = run("derive", "--fuel", estimated, *TEST[2:], "--explain").stdout.decode()
        self.assertIn("Channiwala and Parikh", page)
        self.assertGreater(self.derive("--fuel", estimated, *TEST[2:])["derived"]
                           ["efficiency_gross_pct"]["u"], 0.5)

    def test_by_gas_composition(self):
        path = self.fuel('name = "methane"\ngas = {ch4 = "100 %"}\n')
        said = self.derive("--fuel", path, "--o2", "5.0+-0.0001", "--stack", "470degF", "--air",
                           "70degF")
        self.assertEqual(said["inputs"]["fuel"], "methane")
        # methane, air 20.946 %, O2 5 %: CO2 8.906 %, excess air 28.072 %; recomputed
        self.assertAlmostEqual(said["derived"]["co2_pct"]["value"], 8.906, delta=0.001)
        self.assertAlmostEqual(said["derived"]["excess_air_exact_pct"]["value"], 28.072,
                               delta=0.001)
        # DOE Steam Tip Sheet 4: 79.5 at 28.1 % excess air, net 400 degF; found +0.30 to +0.72
        self.assertAlmostEqual(said["derived"]["efficiency_gross_pct"]["value"], 79.5, delta=0.8)

    def test_what_cannot_be_right_names_file_line_key_and_remedy(self):
        for text, says in (('carbon = "86 %"\n', "own.toml:2: carbon: the parts add up to 86 %"),
                           ('carbn = "86 %"\n', "did you mean carbon?"),
                           ("carbon = 86\n", 'own.toml:2: carbon: \'86\' is no share of a whole; '
                                             'write "86.9 %"'),
                           ('gas = {ch5 = "3 %"}\n', "'ch5' is none of ch4"),
                           ('gas = {ch4 = 3}\n', 'write gas = {"ch4" = "92 %"}'),
                           ('gas = {ch4 = "50 %"}\n', "own.toml:2: gas: the gases add up to 50 %"),
                           ('gas = {n2 = "100 %"}\n', "nothing burns"),
                           ('gas = {ch4 = "100 %"}\ncarbon = "86 %"\n', "not both"),
                           ('carbon = "87 %"\nhydrogen = "13 %"\ngross_heating_value = "45"\n',
                            'own.toml:4: gross_heating_value: \'45\' is no heating value by mass; '
                            'write "45.4 MJ/kg"'),
                           ('carbon = "87 %"\nhydrogen = "13 %"\ngross_heating_value = "2 MJ/kg"\n',
                            "own.toml:4: gross_heating_value: the gross heating value is below"),
                           ('net_heating_value = "42 MJ/kg"\n', "say what it is made of")):
            with self.subTest(text=text):
                self.assert_refused(("--fuel", self.fuel(text), "--o2", "5"), says)
        empty = self.file("none.toml", "")
        self.assert_refused(("--fuel", empty, "--o2", "5"), "nothing stands under [fuel]")

    def test_in_a_settings_file_and_in_settle(self):
        text = '[fuel]\nname = "mine"\ncarbon = "87 %"\nhydrogen = "13 %"\n'
        path = self.file("all.toml", text + '[readings]\no2 = "5.0 %"\nstack = "480 degF"\n')
        said = self.derive("--settings", path, "--air", "70degF")
        self.assertEqual(said["inputs"]["fuel"], "mine")
        self.assertIsNotNone(said["derived"]["efficiency_gross_pct"]["value"])
        # What is typed stands in place of it.
        self.assertEqual(self.derive("--settings", path, "--fuel", "b5")["inputs"]["fuel"], "b5")
        own = self.file("mine.toml", text)
        out = run("settle", "--jsonl", "--fuel", own, log=steady_log()).stdout
        b5 = run("settle", "--jsonl", "--fuel", "no2_oil", log=steady_log()).stdout
        get = [of_kind(o, "plateau")[-1]["derived"]["co2_pct"]["value"] for o in (out, b5)]
        self.assertAlmostEqual(get[0], get[1], delta=0.1)
        self.assertNotEqual(get[0], get[1])


class OwnLimits(DeriveTest):
    LIMITS = ('[limits]\nbasis = "maker\'s manual"\noxygen_high = "4.5 %"\nstack_cool = "none"\n'
              'efficiency_gross_low = "85 %"\n')

    def test_stand_in_place_value_by_value(self):
        path = self.file("limits.toml", self.LIMITS)
        words = (*OIL, "--o2", "5.0+-0.2", "--stack", "340degF", "--air", "70degF", "--co", "130")
        own = {f["finding"]: f for f in self.derive(*words)["findings"]}
        self.assertEqual(sorted(own), ["co_high", "stack_cool"])
        said = {f["finding"]: f for f in self.derive(*words, "--limits", path)["findings"]}
        self.assertEqual(sorted(said), ["co_high", "oxygen_high"])
        self.assertEqual(said["co_high"]["basis"], "common practice")
        high = said["oxygen_high"]
        self.assertEqual((high["basis"], high["limit"], high["limit_name"], high["straddles"]),
                         ("maker's manual", 4.5, "oxygen_high", False))
        self.assertIn("(maker's manual)", high["text"])
        self.assertIn("maker's instructions, local codes", high["text"])
        wide = self.derive(*OIL, "--o2", "5.0+-0.6", "--limits", path)["findings"][0]
        self.assertTrue(wide["straddles"])
        self.assertIn("within the uncertainty", wide["text"])

    def test_in_settle(self):
        path = self.file("limits.toml", self.LIMITS)
        out = run("settle", "--jsonl", "--limits", path, log=steady_log()).stdout
        found = {f["finding"]: f["basis"] for f in of_kind(out, "finding")}
        self.assertEqual(found["oxygen_high"], "maker's manual")
        self.assertEqual(found["efficiency_low"], "maker's manual")
        danger = self.file("danger.toml", '[limits]\nco_danger = "15 ppm"\nbasis = "ours"\n')
        first = of_kind(run("settle", "--jsonl", "--limits", danger, log=steady_log()).stdout,
                        "finding")[0]
        self.assertEqual((first["severity"], first["basis"]), ("danger", "ours"))
        self.assertLess(first["time_s"], 30)  # at once, long before anything settled

    def test_danger_comes_first_and_names_exposure_limits(self):
        page = run("derive", *OIL, "--o2", "5", "--co", "800").stdout.decode()
        self.assertTrue(page.startswith("DANGER: CO 800"))
        joined = re.sub(r"\s+", " ", page)
        self.assertIn("35 ppm 1 h, not more than once a year (EPA NAAQS)", joined)

    def test_the_air_of_the_room(self):
        # EPA NAAQS 9 and 35 ppm, UL 2034 70 ppm
        for ppm, severity in ((8, None), (9, "note"), (35, "warning"), (70, "danger")):
            found = self.derive(*OIL, "--room-co", ppm)["findings"]
            self.assertEqual([f["severity"] for f in found], [severity] if severity else [])
            self.assertEqual([f["finding"] for f in found], ["co_in_room"] * len(found))
        page = run("derive", *OIL, "--o2", "5", "--room-co", "90").stdout.decode()
        self.assertTrue(page.startswith("DANGER: CO 90"))
        self.assertIn("NIOSH REL", page)

    def test_an_absorption_kit_has_wider_limits(self):
        words = (*OIL, "--co2", "9.5+-0.3")
        self.assertEqual(self.derive(*words)["findings"][0]["limit_name"], "co2_low")
        self.assertEqual(self.derive(*words, "--absorption-kit")["findings"], [])

    def test_smoke(self):
        for smoke, found in (("0", 0), ("trace", 1), ("2", 1)):
            said = self.derive(*OIL, "--o2", "5", "--smoke", smoke)["findings"]
            self.assertEqual(len(said), found, smoke)

    def test_what_is_wrong_is_named(self):
        for text, says in (('oxygen_hihg = "6 %"\n',
                            "limits.toml:2: 'oxygen_hihg' is no setting of [limits]; did you mean "
                            "oxygen_high?"),
                           ('stack_hot = "500"\n', "limits.toml:2: stack_hot: write the unit"),
                           ('smoke_high = "11"\n', "from 0 to 9"),
                           ('efficiency_gross_low = "85"\n', 'write "85 %"'),
                           ("oxygen_high = true\n", "this is true or false")):
            with self.subTest(text=text):
                path = self.file("limits.toml", "[limits]\n" + text)
                self.assert_refused((*OIL, "--o2", "5", "--limits", path), says)
        self.assert_refused((*OIL, "--o2", "5", "--limits", self.folder / "none"),
                            "there is no file")

    def test_list_names_every_limit_with_its_source(self):
        text = run("list", "limits").stdout.decode()
        for line in ("oxygen_low              warning o2 below 4 pct\n    common practice",
                     "co_high                 warning co from 100 ppm",
                     "draft_overfire_weak     warning draft_overfire above -0.01 inH2O",
                     "co2_high_kit            warning co2 above 13 pct, read by an absorption kit",
                     "stack_cool              warning stack_temp below 350 degF",
                     "NIOSH"):
            self.assertIn(line, text)
        for name in ("limits", "fuels"):
            for line in run("list", name).stdout.decode().splitlines():
                self.assertLessEqual(len(line), 80, line)


class OwnInstrument(DeriveTest):
    SPECIFIED = ('[instrument]\nname = "invented"\no2 = "0.3 pct"\n'
                 'co = "10 ppm or 5 % of reading"\nstack_temp = "2 degC or 0.5 % of reading"\n')

    def test_goes_into_every_uncertainty(self):
        path = self.file("instrument.toml", self.SPECIFIED)
        words = (*OIL, "--o2", "5.0+-0", "--co", "400+-0", "--stack", "250degC+-0".replace(
            "degC+-0", "+-0degC"), "--air", "20+-0degC", "--instrument", path)
        said = self.derive(*words)
        # rectangular, k = 2: 2 x bound/sqrt(3), JCGM 100 4.3.7
        k = 2 / math.sqrt(3)
        self.assertAlmostEqual(said["inputs"]["o2_pct"]["u"], 0.3 * k, delta=0.002)
        self.assertAlmostEqual(said["inputs"]["co_ppm"]["u"], 20 * k, delta=0.1)
        self.assertAlmostEqual(said["inputs"]["stack_temp_degC"]["u"], 2 * k, delta=0.01)
        self.assertEqual(said["inputs"]["ambient_temp_degC"]["u"], 0)
        self.assertAlmostEqual(said["derived"]["net_stack_temp_degC"]["u"], 2 * k, delta=0.01)
        hot = self.derive(*OIL, "--stack", "500+-0degC", "--instrument", path)["inputs"]
        self.assertAlmostEqual(hot["stack_temp_degC"]["u"], 2.5 * k, delta=0.01)

    def test_in_settle_readings_and_figures(self):
        path = self.file("instrument.toml", self.SPECIFIED)
        log = steady_log()
        own, with_it = (of_kind(run("settle", "--jsonl", *w, log=log).stdout, "plateau")[-1]
                        for w in ((), ("--instrument", path)))
        bound = 0.3 * 2 / math.sqrt(3)
        u = own["readings"]["o2_pct"]["u"]
        self.assertAlmostEqual(with_it["readings"]["o2_pct"]["u"], math.hypot(u, bound),
                               delta=0.002)
        self.assertEqual(with_it["readings"]["o2_pct"]["value"],
                         round(own["readings"]["o2_pct"]["value"], 3))
        self.assertGreater(with_it["derived"]["excess_air_pct"]["u"],
                           own["derived"]["excess_air_pct"]["u"])
        self.assertEqual(own["readings"]["ambient_temp_degF"], with_it["readings"]
                         ["ambient_temp_degF"])
        page = run("settle", "--instrument", path, log=log).stdout.decode()
        self.assertIn("instrument's specification", page)

    def test_what_is_wrong_is_named(self):
        for text, says in (('o2 = "0.3"\n',
                            'instrument.toml:2: o2: \'0.3\' is no error of o2; write "0.2 pct"'),
                           ('stack_temp = "1 % of reading"\n', "of which scale?"),
                           ('oxygen = "0.3 pct"\n', "known are"),
                           ('co = "-5 ppm"\n', "must be above 0")):
            with self.subTest(text=text):
                path = self.file("instrument.toml", "[instrument]\n" + text)
                self.assert_refused((*OIL, "--o2", "5", "--instrument", path), says)

    def test_altitude_and_humidity_in_settle(self):
        log = steady_log()
        own, high, wet = (of_kind(run("settle", "--jsonl", *w, log=log).stdout, "plateau")[-1]
                          ["derived"]["dew_point_degF"]["value"]
                          for w in ((), ("--altitude", "5000ft"), ("--humidity", "50%")))
        self.assertLess(high, own)
        self.assertGreater(wet, own)


class Tables(DeriveTest):
    WORDS = (*OIL, "--air", "70degF", "--table")

    def test_rows_are_what_the_formula_gives(self):
        words = (*self.WORDS, "efficiency_gross", "--o2", "3..9:2", "--stack", "350..650degF:100")
        done = run("derive", *words, "--csv")
        rows = list(csv.DictReader(io.StringIO(done.stdout.decode())))
        self.assertEqual([r["o2_pct"] for r in rows], ["3", "5", "7", "9"])
        for row in rows:
            for stack in (350, 450, 550, 650):
                one = self.figure("efficiency_gross_pct", *OIL, "--o2", row["o2_pct"], "--stack",
                                  f"{stack}degF", "--air", "70degF")
                self.assertAlmostEqual(float(row[f"efficiency_gross_pct_at_{stack}_degF"]), one,
                                       delta=0.051)
        page = run("derive", *words).stdout.decode()
        self.assertIn("No. 2 oil", page)
        self.assertIn("ambient_temp 70 degF", page)

    def test_one_range_has_all_that_follows(self):
        page = run("derive", *self.WORDS, "--o2", "1..21:2", "--stack", "480degF").stdout.decode()
        self.assertIn("- O2 is at air level", page)
        for line in page.splitlines():
            self.assertLessEqual(len(line), 100)
        rows = list(csv.DictReader(io.StringIO(run(
            "derive", *self.WORDS, "--o2", "1..21:10", "--csv").stdout.decode())))
        self.assertEqual(rows[-1]["excess_air_pct"], "")  # unknown is not 0

    def test_what_makes_no_sense(self):
        for words, says in (((), "over which range"),
                            (("--o2", "9..3"), "goes up"),
                            (("--o2", "3..9:0"), "above 0"),
                            (("--o2", "3..9:0.001"), "more than 200 steps")):
            self.assert_refused((*self.WORDS, *words), says)
        self.assert_refused((*self.WORDS, "efficency", "--o2", "3..9"), "'efficency' is none of")
        self.assert_refused((*OIL, "--o2", "5", "--csv"), "--table")


class Page(DeriveTest):
    def test_says_what_was_typed_what_follows_and_what_speaks_against_it(self):
        page = run("derive", *TEST, "--draft-breech", "-0.04inH2O", "--draft-overfire",
                   "-0.03inH2O", "--verbose").stdout.decode()
        at = [page.index(words) for words in (
            "What was typed", "How much air goes through", "Where the heat goes", "Draft",
            "What speaks against it", "maker's instructions")]
        self.assertEqual(at, sorted(at))
        self.assertRegex(page, r"efficiency, gross +83\.1 ± 0\.4 %  gross_efficiency\n")
        self.assertIn("warning: Draft over fire", page)
        for line in page.splitlines():
            self.assertLessEqual(len(line), 80, line)

    def test_unknown_is_a_reason(self):
        page = run("derive", *OIL, "--o2", "5").stdout.decode()
        self.assertIn("What cannot be said", page)
        self.assertIn("no CO was read", page)
        self.assertNotRegex(page, r"\b0\.0+ %")


if __name__ == "__main__":
    main()
