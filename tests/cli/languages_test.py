# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""One test in three languages: degF, inH2O and points; degC, Pa and decimal commas; K, mbar,
tabs and mol/mol. What settled, when and at what must be the same within rounding.
"""

import csv
import io

from command import CommandTest, main, of_kind, run, simulated

PASCALS = 249.08891  # per inch of water at 4 degC, NIST SP 811, table B.8


def european(column, x):
    if column.endswith("degF"):
        return column.replace("degF", "degC"), (x - 32) / 1.8
    if column.endswith("inH2O"):
        return column.replace("inH2O", "Pa"), x * PASCALS
    return column, x


def scientific(column, x):
    if column.endswith("degF"):
        return column.replace("degF", "K"), (x + 459.67) / 1.8
    if column.endswith("inH2O"):
        return column.replace("inH2O", "mbar"), x * PASCALS / 100
    if column.endswith("pct"):
        return column.replace("pct", "fraction"), x / 100
    return column, x


def translated(log, into, separator, point):
    """The log in other units and signs, with digits enough to hold the values it had."""
    lines = []
    names = None
    for row in csv.reader(io.StringIO(log.decode())):
        if row[0].startswith("#"):
            lines.append(",".join(row))
        elif names is None:
            names = row
            lines.append(separator.join(into(name, 0)[0] for name in names))
        else:
            cells = []
            for name, cell in zip(names, row):
                try:
                    cells.append(f"{into(name, float(cell))[1]:.9g}".replace(".", point))
                except ValueError:
                    cells.append(cell)
            lines.append(separator.join(cells))
    return "\n".join(lines) + "\n"


class Languages(CommandTest):
    def settled(self, log, *words):
        out = run("settle", "--jsonl", "--show", "degF,inH2O", *words, log=log).stdout
        return of_kind(out, "plateau"), of_kind(out, "end")[0], of_kind(out, "phase")

    def assert_same(self, own, other, back):
        self.assertEqual(len(own[0]), len(other[0]))
        self.assertEqual([p["phase"] for p in own[2]], [p["phase"] for p in other[2]])
        self.assertEqual((own[1]["rows"], own[1]["frames"]), (other[1]["rows"], other[1]["frames"]))
        for a, b in zip(own[0], other[0]):
            for key in ("declared_s", "from_s", "to_s", "end_reason"):
                self.assertEqual(a[key], b[key])
            for key, reading in a["readings"].items():
                their, factor = back(key)
                theirs = b["readings"][their]
                # Both are rounded to two digits of u or so; until a display has shown its step, the
                # last place written stands in for it, and that is another one here.
                self.assertAlmostEqual(theirs["value"] * factor, reading["value"],
                                       delta=0.1 * reading["u"] + 1e-9, msg=key)
                self.assertAlmostEqual(theirs["u"] * factor, reading["u"],
                                       delta=0.1 * reading["u"] + 1e-9, msg=key)
                # A value exactly at the edge of an outlier may fall on either side of it.
                self.assertAlmostEqual(theirs["n"], reading["n"], delta=1, msg=key)
            for key, figure in a["derived"].items():
                if figure["value"] is not None:
                    self.assertAlmostEqual(b["derived"][key]["value"], figure["value"],
                                           delta=0.1 * figure["u"] + 1e-9, msg=key)

    def test_the_same_is_read_in_all_of_them(self):
        def fraction(key):
            return (key.replace("pct", "fraction"), 100) if key.endswith("pct") else (key, 1)

        seen = 0
        for scenario in ("first_visit", "staged_firing", "faulty_sensors", "light_appliance",
                         "gusty_day",
                         "hunting", "draft_adjustments"):
            log = simulated(scenario)
            own = self.settled(log)
            seen += len(own[0])
            with self.subTest(scenario=scenario, into="degC;Pa,"):
                other = self.settled(translated(log, european, ";", ","))
                self.assert_same(own, other, lambda key: (key, 1))
                self.assertTrue(any("decimal_comma" in a for a in other[1]["assumptions"]))
            with self.subTest(scenario=scenario, into="K mbar"):
                other = self.settled(translated(log, scientific, "\t", "."))
                self.assert_same(own, other, fraction)
        self.assertGreater(seen, 20)


if __name__ == "__main__":
    main()
