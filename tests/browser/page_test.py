# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The page of `stilling report --html` in a real browser. README.md beside this file says which
rules of accessibility are checked here, and how.

Skipped, with a word, where there is no Chromium: CHROMIUM names one that is not in PATH.
"""

import functools
import os
import re
import subprocess
import sys
import tempfile
import unittest
from pathlib import Path

import chromium

STILLING = os.environ["STILLING"]
SOURCE = Path(__file__).with_name("page.js").read_text(encoding="utf-8")
WIDTHS = (360, 1280)
SIZES = {"A4": (8.27, 11.69), "Letter": (8.5, 11)}

PARTICULARS = """[particulars]
company = "Invented Oil & Heat"
technician = "R. Sample <r@example.org>"
customer = "The 'Old Mill' \\"Inn\\""
site = "1 Invented Street, Nowhere"
appliance = "cast-iron boiler, invented"
"""

# Whole tests; the truth about each is known, and here only that it can be shown.
TESTS = {"first_visit": 7, "air_adjustments": 3, "short_cycling": 2, "never_lit": 1,
         "draft_adjustments": 5, "rising_monoxide": 4,
         "flawed_visit": 3, "whole_visit": 3}

HOSTILE = ["time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm", "# adjusted air <script>",
           "# smoke 1 \"'&lt;</text></svg>", "# adjusted air " + "word " * 2000,
           "# adjusted draft " + "x" * 10000]
HOSTILE += [f"{t},{450 + t * 7 // 3 % 2},68,5.{t % 2},20" for t in range(300)]
ONE_READING = [HOSTILE[0]] + HOSTILE[5:]
WITHOUT_O2 = ["time_s,stack_temp_degF"] + [f"{t},{450 + t * 7 // 3 % 2}" for t in range(300)]
LOGS = {"hostile notes": HOSTILE, "one reading, no notes": ONE_READING, "no O2": WITHOUT_O2}


def run(*words, log=None):
    return subprocess.run([STILLING, *map(str, words)], input=log, capture_output=True,
                          timeout=120, check=False)


def relative_luminance(colour):
    """WCAG 2.2, relative luminance of sRGB."""
    def linear(c):
        c /= 255
        return c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
    r, g, b = map(linear, colour[:3])
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(a, b):
    high, low = sorted(map(relative_luminance, (a, b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def overlapping(texts):
    """Pairs of words whose boxes share more than a hair's breadth."""
    boxes = [(box, i) for i, t in enumerate(texts) for box in t["boxes"]]
    boxes.sort(key=lambda b: b[0][1])
    out = []
    for k, ((left, top, right, bottom), i) in enumerate(boxes):
        for other, j in boxes[k + 1:]:
            if other[1] >= bottom:
                break
            # Lines of one paragraph and glyphs' own overhang are no overlap; words in a picture
            # have boxes as high as the face, taller than any letter in them.
            least = 3.5 if texts[i]["shape"] or texts[j]["shape"] else 2.5
            wide = min(right, other[2]) - max(left, other[0])
            high = min(bottom, other[3]) - max(top, other[1])
            if i != j and wide > 1 and high > least:
                out.append((texts[i]["text"][:40], texts[j]["text"][:40]))
    return out


def pages_in(pdf):
    return len(re.findall(rb"/Type\s*/Page[^s]", pdf))


@unittest.skipUnless(chromium.find(), "no Chromium here; `./dev browser` installs one")
class Page(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(folder.cleanup)
        cls.folder = Path(folder.name)
        (cls.folder / "visit.toml").write_text(PARTICULARS, encoding="utf-8")
        cls.browser = chromium.Chromium(chromium.find())
        cls.addClassCleanup(cls.browser.__exit__)

    @functools.cache
    def page(self, name):
        log = (run("simulate", name, "--seed", TESTS[name]).stdout if name in TESTS
               else "\n".join(LOGS[name] + [""]).encode())
        with_particulars = ["--settings", self.folder / "visit.toml"] if name in TESTS else []
        done = run("report", "--html", *with_particulars, log=log)
        self.assertIn(done.returncode, (0, 1), done.stderr.decode())
        path = self.folder / f"{name}.html"
        path.write_bytes(done.stdout)
        return path

    def ask(self, what):
        return self.browser.ask(f"() => {SOURCE}.{what}()")

    def each(self, check, schemes=(False, True), widths=WIDTHS):
        """`check(name)` with the page of that name open."""
        for name in [*TESTS, *LOGS]:
            path = self.page(name)
            for width in widths:
                for dark in schemes:
                    with self.subTest(test=name, width=width, dark=dark):
                        self.browser.emulate(width, dark=dark)
                        self.browser.open(path)
                        check(name)

    def test_nothing_is_asked_for_and_nothing_is_refused(self):
        def check(name):
            self.assertEqual(self.browser.requests, [self.page(name).resolve().as_uri()])
            self.assertEqual(self.browser.complaints, [])

        self.each(check, schemes=(False,))

    def test_nothing_is_wider_than_the_page(self):
        def check(_):
            is_so = self.ask("widths")
            self.assertLessEqual(is_so["scroll"], is_so["inner"], is_so["out"])
            self.assertEqual(is_so["out"], [])

        self.each(check, schemes=(False,), widths=(320, 360, 412, 768, 1280))

    def test_no_words_lie_on_others(self):
        def check(_):
            texts = self.ask("texts")
            self.assertGreater(sum(t["shape"] for t in texts), 4)
            self.assertEqual(overlapping(texts), [])

        self.each(check, schemes=(False,), widths=(360, 520, 700, 1280))

    def test_words_stand_out_from_their_ground(self):
        def check(_):
            for t in self.ask("texts"):
                for ground in t["grounds"]:
                    self.assertGreaterEqual(contrast(t["colour"], ground), 4.5, t)

        self.each(check)

    def test_lines_that_mean_something_stand_out(self):
        def check(_):
            for s in self.ask("strokes"):
                self.assertGreaterEqual(contrast(s["colour"], s["paper"]), 3, s)

        self.each(check, widths=(1280,))

    def test_two_schemes(self):
        luminances = []
        for dark in (False, True):
            self.browser.emulate(1280, dark=dark)
            self.browser.open(self.page("first_visit"))
            ground = self.ask("texts")[0]["grounds"][0]
            luminances.append(relative_luminance(ground))
        self.assertGreater(luminances[0], 0.8)
        self.assertLess(luminances[1], 0.05)

    def test_structure(self):
        def check(name):
            s = self.ask("structure")
            self.assertEqual(s["lang"], "en")
            self.assertTrue(s["title"].strip())
            self.assertEqual(s["landmarks"], 1)
            levels = [level for level, _ in s["headings"]]
            self.assertEqual(levels[0], 1)
            self.assertEqual(levels.count(1), 1)
            for before, after in zip(levels, levels[1:]):
                self.assertLessEqual(after, before + 1, s["headings"])
            self.assertTrue(all(text.strip() for _, text in s["headings"]))
            for t in s["tables"]:
                self.assertTrue(t["caption"])
                self.assertEqual(t["role"], "table", "a telephone's layout would undo the element")
                self.assertEqual(t["unscoped"], 0)
                self.assertTrue(all(t["heads"]), t)
                for first, cells in t["rows"]:
                    self.assertEqual((first, cells), ("TH", len(t["heads"])))
            drawn = [p for p in s["pictures"] if p["tag"] == "svg"]
            for p in s["pictures"]:
                self.assertTrue(p["name"].strip())
            for p in drawn:
                self.assertEqual(p["parts"], 2, "a title and a description")
            self.assertEqual(s["unnamed"], 0)
            self.assertEqual(s["twice"], [])
            self.assertEqual(s["focusable"], 0)
            self.assertEqual(s["outside"], 0)
            self.assertEqual(s["small"], 0)
            if name in ("first_visit", "air_adjustments"):
                self.assertEqual(len(drawn), 2)
                self.assertGreaterEqual(len(s["tables"]), 1)
            if name == "no O2":
                self.assertEqual(len(drawn), 1)

        self.each(check, schemes=(False,), widths=(360,))

    def test_two_pages_on_paper(self):
        for name in ("first_visit", "whole_visit", "flawed_visit", "never_lit", "rising_monoxide",
                     "one reading, no notes", "no O2"):
            for size, (width, height) in SIZES.items():
                with self.subTest(test=name, size=size):
                    self.browser.emulate(1280)
                    self.browser.open(self.page(name))
                    pdf = self.browser.print(paperWidth=width, paperHeight=height)
                    self.assertIn(pages_in(pdf), (1, 2))

    def test_the_tests_here_can_fail(self):
        bad = self.folder / "bad.html"
        bad.write_text(
            '<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>x</title>'
            '<style>body{background:#fff;color:#999}p{margin:0}.on{margin-top:-12px}'
            '.wide{width:900px}</style><main><h1>one</h1><h3>three</h3><p>grey words</p>'
            '<p class="on">on top of others</p><p class="wide">wide</p>'
            '<img src="missing.png"><svg></svg></main>', encoding="utf-8")
        self.browser.emulate(360)
        self.browser.open(bad)
        texts, s = self.ask("texts"), self.ask("structure")
        self.assertNotEqual(overlapping(texts), [])
        self.assertLess(min(contrast(t["colour"], t["grounds"][0]) for t in texts), 4.5)
        self.assertGreater(self.ask("widths")["scroll"], 360)
        self.assertEqual(s["unnamed"], 1)
        self.assertGreater(s["outside"], 0)
        self.assertEqual([level for level, _ in s["headings"]], [1, 3])
        self.assertGreater(len(self.browser.requests), 1)


if __name__ == "__main__":
    if not chromium.find():
        print("skipped: no Chromium here; `./dev browser` installs one", file=sys.stderr)
    unittest.main()
