# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A calculation by hand for each fuel against `derive --json`. Renew the pages, with a reason:
RENEW_GOLDEN=1 python3 tests/cli/sheet_test.py
"""

import json
import os
import re
import unittest
from pathlib import Path

from command import CommandTest, main, run
from sheets import SHEETS, Sheet, goff_gratch, half_up

PAGES = Path(__file__).parent.parent / "golden" / "sheets"

# How far the two may lie apart, and why. Balances are the same physics: printed digits. Heat: two
# NASA reports, up to 0.13 % apart in an enthalpy (found: 0.0039 point of loss at most), and two
# families of formation enthalpies (0.01 % of the heat of propane and butane). Dew point: Goff and
# Gratch against IAPWS-IF97 (found: 0.038 degF at most).
TOLERANCE = {"dry_gas_loss_pct": 0.005, "vapour_loss_pct": 0.0005, "latent_loss_pct": 0.001,
             "co_loss_pct": 0.00002, "efficiency_gross_pct": 0.005, "efficiency_net_pct": 0.005,
             "dew_point_degF": 0.05}
OF_PRINT = 0.0006  # where nothing but rounding to three decimals lies between


class Sheets(CommandTest):
    def derived(self, fuel, method):
        _, _, o2, co, stack, air = SHEETS[fuel]
        # Typed as exact, so that every digit is printed that can be.
        pm = "+-0.00000001"
        done = run("derive", "--fuel", fuel, "--method", method, "--o2", o2 + pm, "--co", co + pm,
                   "--stack", stack + pm + "degF", "--air", air + pm + "degF", "--barometer",
                   "101325+-0.01Pa", "--json")
        self.assert_status(done, 0)
        return json.loads(done.stdout)["derived"]

    def assert_same(self, fuel, figures, method):
        derived = self.derived(fuel, method)
        for key, hand in figures.items():
            with self.subTest(fuel=fuel, method=method, figure=key):
                self.assertAlmostEqual(derived[key]["value"], float(hand),
                                       delta=TOLERANCE.get(key, OF_PRINT))

    def test_every_fuel_from_first_principles(self):
        for fuel in SHEETS:
            self.assert_same(fuel, Sheet(fuel).figures, "composition")

    def test_by_the_published_formulas_where_they_have_constants(self):
        for fuel in SHEETS:
            sheet = Sheet(fuel)
            for method, figures in (("app_o", sheet.by_app_o), ("siegert", sheet.by_siegert)):
                if figures:
                    # These share every constant: the last digit printed must agree.
                    derived = self.derived(fuel, method)
                    for key, hand in figures.items():
                        self.assertAlmostEqual(derived[key]["value"], float(hand), delta=1e-5,
                                               msg=f"{fuel} {method} {key}")
                else:
                    derived = self.derived(fuel, method)
                    key = "efficiency_gross_pct" if method == "app_o" else "efficiency_net_pct"
                    self.assertEqual(derived[key], {"value": None, "reason": "constant_unknown"})

    def test_every_built_in_fuel_has_its_sheet(self):
        listed = re.findall(r"(?m)^(\w+): ", run("list", "fuels").stdout.decode())
        self.assertEqual(sorted(listed), sorted(SHEETS))

    def test_the_pages_are_what_the_calculation_says(self):
        for fuel in SHEETS:
            page = PAGES / f"{fuel}.md"
            if os.environ.get("RENEW_GOLDEN"):
                page.write_text(Sheet(fuel).page())
            self.assertEqual(page.read_text(), Sheet(fuel).page())


class Worked(unittest.TestCase):
    """The sheets' own tools against published values."""

    def test_saturation(self):
        # 40 CFR 1065.645(b) and (c) (2015 ed.): 9.5 degC 1.186581 kPa, 20 degC 2.3371 kPa
        from decimal import Decimal
        self.assertAlmostEqual(float(goff_gratch(Decimal("282.65"))), 1186.581, delta=0.001)
        self.assertAlmostEqual(float(goff_gratch(Decimal("293.15"))), 2337.1, delta=0.1)

    def test_rounding_twice(self):
        # 1. BImSchV: LPG, 150 K, 3 %: 6.45 -> 6.5 -> 7
        from fractions import Fraction
        tenth = half_up(Fraction("6.45") * 10) / Fraction(10)
        self.assertEqual((tenth, half_up(tenth)), (Fraction("6.5"), 7))
        self.assertEqual(half_up(Fraction("6.4")), 6)

    def test_heat_of_methane_and_propane(self):
        # Active Thermochemical Tables 1.112, recomputed: 2219332 J/mol of propane, gross
        _, heat = SHEETS["propane"][0]
        self.assertAlmostEqual(float(heat * (3 * 12.011 + 8 * 1.008)), 2219332, delta=1)


if __name__ == "__main__":
    main()
