# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Manual pages and completion say what --help says."""

import os
import re
import shutil
import subprocess
import unittest
from pathlib import Path

from command import CommandTest, main, run

MANUALS = Path(os.environ["MANUALS"])
VERBS = re.findall(r"^  ([a-z]+) {2,}", run("--help").stdout.decode(), re.M)


def plain(page):
    """What stands in a page, without the marks of roff."""
    text = (MANUALS / f"{page}.1").read_text(encoding="utf-8")
    for mark, sign in (("\\&", ""), ("\\-", "-"), ("\\(aq", "'"), ("\\(ga", "`"), ("\\(ti", "~"),
                       ("\\(ha", "^"), ("\\e", "\\")):
        text = text.replace(mark, sign)
    return text


def offered(*words, folder="/"):
    """What bash offers for the last of these words."""
    listed = " ".join("'" + w.replace("'", "'\\''") + "'" for w in words)
    done = subprocess.run(
        ["bash", "--norc", "-c", f"source '{MANUALS}/stilling.bash'; COMP_WORDS=({listed}); "
         f"COMP_CWORD={len(words) - 1}; _stilling; printf '%s\\n' \"${{COMPREPLY[@]}}\""],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, timeout=60, check=True,
        cwd=folder)
    assert not done.stderr, done.stderr
    return [x for x in done.stdout.decode().splitlines() if x]


class Pages(CommandTest):
    def test_every_verb_has_one(self):
        self.assertGreater(len(VERBS), 8)
        written = sorted(p.name for p in MANUALS.glob("*.1"))
        self.assertEqual(written, sorted(["stilling.1"] + [f"stilling-{v}.1" for v in VERBS]))
        for verb in VERBS:
            self.assertIn(f"stilling-{verb} (1)", plain("stilling"))

    def test_every_line_of_help_is_in_it(self):
        for verb in VERBS:
            helped = run(verb, "--help").stdout.decode()
            page = " ".join(plain(f"stilling-{verb}").split())
            named = re.findall(r"^  (-\S+)", helped, re.M)
            self.assertTrue(named)
            for option in named:
                self.assertIn(f".B {option}", page, verb)
            # What stands under an option or a heading, and the examples, word for word.
            for told in re.findall(r"^ {2}-.*\n(?: {29}.*\n)*", helped, re.M):
                first, *more = told.strip("\n").split("\n")
                about = " ".join([first[29:]] + [x.strip() for x in more]).strip() \
                    if first[:29].endswith("  ") else " ".join(x.strip() for x in more)
                self.assertTrue(about)
                self.assertIn(about, page, verb)
            for heading in re.findall(r"^(\S.*):$", helped, re.M):
                if not heading.startswith("Example"):
                    self.assertIn(f".SS {heading}", page)
            for line in re.split(r"^Examples?:$", helped, flags=re.M)[-1].strip().splitlines():
                self.assertIn(" ".join(line.removeprefix("Status: ").split()), page)

    @unittest.skipUnless(shutil.which("man"), "there is no man")
    def test_man_has_nothing_against_them(self):
        for page in sorted(MANUALS.glob("*.1")):
            done = subprocess.run(["man", "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z", page],
                                  stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, timeout=60,
                                  env={**os.environ, "LC_ALL": "C.UTF-8", "MANROFFSEQ": ""},
                                  check=True)
            self.assertEqual(done.stderr, b"", page.name)


class Completion(CommandTest):
    def test_verbs(self):
        self.assertEqual(offered("stilling", ""), VERBS + ["--help", "--version"])
        self.assertEqual(offered("stilling", "si"), ["simulate"])

    def test_options_are_those_of_help(self):
        for verb in VERBS:
            named = re.findall(r"^  (?:-h,)?(--[a-z0-9-]+)",
                               run(verb, "--help").stdout.decode(), re.M)
            self.assertEqual(sorted(offered("stilling", verb, "--")), sorted(named), verb)

    def test_values_are_taken(self):
        fuels = offered("stilling", "settle", "--fuel", "", folder=self.folder)
        self.assertIn("no2_oil", fuels)
        for fuel in fuels:
            self.assert_status(run("derive", "--fuel", fuel, "--o2", "5", "--stack", "480degF",
                                   "--air", "70degF"), 0)
        criteria = offered("stilling", "settle", "--criterion", "", folder=self.folder)
        self.assertTrue({"field", "strict", "us_oil_heater"} <= set(criteria))
        for name in criteria:
            done = run("settle", "--criterion", name, log="time_s,stack_temp_degF,o2_pct,co_ppm\n"
                       "0,470,5,20\n")
            self.assertNotIn(b"--criterion", done.stderr, name)
        self.assertEqual(offered("stilling", "settle", "--combustion-check", ""), ["on", "off"])
        self.assertEqual(offered("stilling", "list", "f"), ["fuels"])
        self.assertIn("whole_visit", offered("stilling", "simulate", "wh"))

    def test_lists_and_equal_signs(self):
        self.assertEqual(offered("stilling", "settle", "--require", "stack_temp,o"),
                         ["stack_temp,o2"])
        self.assertEqual(offered("stilling", "settle", "--fuel", "=", "no2"), ["no2_oil"])
        self.assertIn("no2_oil", offered("stilling", "settle", "--fuel", "="))

    def test_files(self):
        self.file("one test.csv", "")
        for words in (["one"], ["--limits", "one"]):
            self.assertEqual(offered("stilling", "settle", *words, folder=self.folder),
                             ["one test.csv"])
        self.assertEqual(offered("stilling", "settle", "--barometer", ""), [])


if __name__ == "__main__":
    main()
