# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What `derive --explain` prints, followed with a pocket calculator: nothing but the numbers on the
page is used, in decimals, and the last digit of every result must be the one that is printed. And
what is followed so must be the figure that --json gives.
"""

import json
import re
from decimal import ROUND_HALF_UP, Decimal, getcontext

from command import CommandTest, main, run

getcontext().prec = 40
TOKEN = re.compile(r"\s*(sqrt|[-+x/()]|\d+(?:\.\d+)?)")
FUELS = ("no1_oil", "no2_oil", "kerosene", "b5", "b20", "b100", "natural_gas", "propane", "butane")
TYPED = ("--o2", "5.2", "--co", "42", "--stack", "471degF", "--air", "68.5degF", "--draft-breech",
         "-0.043inH2O", "--draft-overfire", "-0.018inH2O")


class Calculator:
    """Numbers, + - x /, brackets and the root key."""

    def __init__(self, text):
        self.left = TOKEN.findall(text)
        assert re.sub(r"\s+", "", text) == "".join(self.left), text

    def work(self):
        x = self.sum()
        assert not self.left, self.left
        return x

    def sum(self):
        x = self.product()
        while self.left and self.left[0] in "+-":
            x = x + self.product() if self.left.pop(0) == "+" else x - self.product()
        return x

    def product(self):
        x = self.factor()
        while self.left and self.left[0] in "x/":
            x = x * self.factor() if self.left.pop(0) == "x" else x / self.factor()
        return x

    def factor(self):
        token = self.left.pop(0)
        if token == "sqrt":
            return self.factor().sqrt()
        if token == "-":
            return -self.factor()
        if token == "(":
            x = self.sum()
            assert self.left.pop(0) == ")"
            return x
        return Decimal(token)


def entries(page):
    """key, formula, numbers filled in, result; those that are only a number have no formula."""
    for block in page.split("\n\n"):
        lines = block.split("\n")
        alone = re.match(r"(\w+) = (\S+)", lines[0])
        if alone:
            yield alone[1], None, None, alone[2]
            continue
        head = re.match(r"(\w+): .*(?:\n {6}.*)*\n?", block)
        if not head:
            continue
        spoken, *parts = re.split(r"(?:^|\n)  [=~] ", block[head.end():])
        spoken = re.sub(r"\s+", " ", spoken).strip()
        filled = re.sub(r"\s+", " ", parts[0]) if len(parts) > 1 else None
        result = parts[-1].split("\n")[0].split(" ")[0]
        yield head[1], spoken, filled, result


def rounded_like(x, printed):
    """x to as many decimals as are printed."""
    return x.quantize(Decimal(1).scaleb(Decimal(printed).as_tuple().exponent), ROUND_HALF_UP)


class Explain(CommandTest):
    def page(self, *words):
        done = run("derive", *words, "--explain")
        self.assert_status(done, 0)
        return done.stdout.decode()

    def follow(self, page):
        """How many results were worked; the numbers of the page by their keys."""
        known, worked = {}, 0
        for key, spoken, filled, result in entries(page):
            if filled is None:
                # A number as typed, a constant, or a formula that is a number.
                known[key] = result
                continue
            if spoken is not None and "rounded to one decimal" in spoken:
                loss, tenth = filled.split(", ")
                self.assertEqual(rounded_like(Decimal(loss), "0.1"), Decimal(tenth))
                self.assertEqual(rounded_like(Decimal(tenth), "1"), Decimal(result))
                known[key], worked = result, worked + 1
                continue
            # Each name in the formula stands for the number printed above under that name.
            names = re.findall(r"[a-z]\w*", spoken.replace("sqrt", ""))
            mended = spoken
            for name in sorted(set(names) - {"x"}, key=len, reverse=True):
                if name not in known and re.fullmatch(r"\w+_a[1-5]", name):
                    continue  # a coefficient: it stands in the line below only
                digits = known[name]
                mended = re.sub(rf"\b{name}\b", f"({digits})" if digits[0] == "-" else digits,
                                mended)
            if not re.search(r"_a[1-5]\b", spoken):
                self.assertEqual(mended, filled, key)
            value = Calculator(filled).work()
            self.assertEqual(rounded_like(value, result), Decimal(result), f"{key}: {filled}")
            known[key], worked = result, worked + 1
        return worked, known

    def assert_figures(self, known, *words):
        figures = json.loads(run("derive", *words, "--json").stdout)["derived"]
        given = {k: f for k, f in figures.items() if f["value"] is not None}
        self.assertGreaterEqual(len(given), 5)
        for key, figure in given.items():
            printed = repr(figure["value"])
            step = 0.5 * 10.0 ** -len(printed.split(".")[1]) if "." in printed else 0.5
            self.assertAlmostEqual(float(known[key]), figure["value"], msg=key,
                                   delta=1.01 * step + 1e-7 * abs(figure["value"]))

    def test_every_fuel_by_every_method_to_the_last_digit(self):
        worked = 0
        for fuel in FUELS:
            for method in ("composition", "app_o", "siegert"):
                words = ("--fuel", fuel, "--method", method, *TYPED)
                with self.subTest(fuel=fuel, method=method):
                    count, known = self.follow(self.page(*words))
                    self.assert_figures(known, *words)
                    worked += count
        self.assertGreater(worked, 700)

    def test_other_readings_and_other_units(self):
        for words in (("--fuel", "no2_oil", "--co2", "11.4", "--stack", "232degC",
                       "--air", "21degC", "--humidity", "45%", "--barometer", "29.1inHg"),
                      ("--fuel", "natural_gas", "--o2", "0.043fraction", "--co", "0.0021pct",
                       "--stack", "455.3K", "--air", "294K", "--humidity", "60%"),
                      ("--fuel", "propane", "--o2", "4.1", "--co2", "11.2", "--stack", "390degF",
                       "--air", "60degF", "--height", "30ft", "--outdoor", "-5degC"),
                      ("--fuel", "butane", "--o2", "7", "--stack", "410degF", "--air", "75degF",
                       "--draft-breech", "-12Pa", "--draft-overfire", "-0.04mbar")):
            with self.subTest(words=words):
                _, known = self.follow(self.page(*words))
                self.assert_figures(known, *words)

    def test_a_fuel_with_everything_in_it(self):
        fuel = self.file("fuel.toml", '[fuel]\ncarbon = "84.6 %"\nhydrogen = "10.9 %"\n'
                                      'oxygen = "1.5 %"\nsulphur = "1.8 %"\nnitrogen = "0.6 %"\n'
                                      'water = "0.5 %"\nash = "0.1 %"\n')
        words = ("--fuel", fuel, *TYPED, "--humidity", "30%")
        _, known = self.follow(self.page(*words))
        self.assert_figures(known, *words)

    def test_the_uncertainty_is_the_root_of_the_sum_of_squares(self):
        page = self.page("--fuel", "no2_oil", *TYPED)
        told = re.findall(r"± (\S+) =\s+(sqrt\([^)]*\))", page)
        self.assertGreaterEqual(len(told), 10)
        for u, parts in told:
            value = Calculator(re.sub(r"\s+", " ", parts)).work()
            self.assertEqual(rounded_like(value, u), Decimal(u), parts)

    def test_the_law_of_rounding_twice(self):
        # 1. BImSchV: 150 K, 3 % O2, LPG: 6.45 -> 6.5 -> 7
        page = self.page("--fuel", "propane", "--method", "siegert", "--o2", "3", "--stack",
                         "170degC", "--air", "20degC")
        self.assertIn("  ~ 6.45, 6.5\n  = 7 %\n", page)

    def test_what_is_not_given_has_a_reason(self):
        page = self.page("--fuel", "no2_oil", "--o2", "5")
        self.assertIn("efficiency_gross: no stack temperature was read", page)

    def test_fits_a_page(self):
        for line in self.page("--fuel", "no2_oil", *TYPED, "--humidity", "45%").splitlines():
            self.assertLessEqual(len(line), 80, line)


if __name__ == "__main__":
    main()
