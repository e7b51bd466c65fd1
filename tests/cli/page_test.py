# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The page of `stilling report --html`, read by a strict parser: well-formed, closed in itself,
nothing from a log or a note in it but as words.

How it looks is for tests/browser. What it says, and where its pictures have what, is kept in
tests/golden/visit_page.txt; a number may differ a little. To keep a change: RENEW_GOLDEN=1.
"""

import base64
import hashlib
import os
import re
from pathlib import Path
from xml.etree import ElementTree

from command import HEADER, CommandTest, main, run, simulated, steady_log
from picture import picture

GOLDEN = Path(__file__).parent.parent / "golden"
HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
PLACES = ("x", "y", "width", "height", "x1", "x2", "y1", "y2", "cx", "cy", "r")


def local(tag):
    return tag.rsplit("}", 1)[-1]


def words_of(element):
    return "".join(element.itertext())


def outline(within):
    """A line for every element that says something or stands somewhere in a picture."""
    for e in within.iter():
        said = " ".join((e.text or "").split())
        places = [f"{k}={e.get(k)}" for k in PLACES if e.get(k)]
        if local(e.tag) == "path":
            places.append(f"points={len(NUMBER.findall(e.get('d'))) // 2}")
        tail = " ".join((e.tail or "").split())
        yield " ".join(filter(None, [local(e.tag), e.get("class"), *places, "|", said, "|", tail]))


class Page(CommandTest):
    maxDiff = None

    def page(self, *words, log, status=0):
        done = run("report", "--html", *words, log=log)
        self.assert_status(done, status)
        text = done.stdout.decode("utf-8", errors="strict")
        return text, ElementTree.fromstring(text)

    def pictures(self, page):
        return [e for e in page.iter(SVG + "svg") if e.get("role") == "img"]

    def test_states(self):
        unsettled = f"{HEADER}\n" + "".join(f"{t},{300 + 2 * t},68,5.0,20\n" for t in range(200))
        for name, log, status, pictures in [
                ("a visit", simulated(), 0, 2),
                ("cycling", simulated("short_cycling", 7), None, None),
                ("never lit", simulated("never_lit", 1), 1, 1),
                ("one reading", steady_log(), 0, 2),
                ("nothing settled", unsettled, 1, 1),
                ("no O2", steady_log(header="time_s,stack_temp_degF", rows="{t},{stack}"), 0, 1),
                ("one row", f"{HEADER}\n0,450,68,5,20\n", 1, 1),
                ("a header alone", f"{HEADER}\n", 1, 0),
                ("dates", steady_log(start_s=1_790_000_000), 0, 2)]:
            with self.subTest(name):
                done = run("report", "--html", log=log)
                self.assertIn(done.returncode, (0, 1) if status is None else (status,))
                page = ElementTree.fromstring(done.stdout)
                if pictures is not None:
                    self.assertEqual(len(self.pictures(page)), pictures)
                self.assertNotRegex(words_of(page.find(HTML + "body")),
                                    r"(?i)\bnan\b|\binf\b|nullopt")

    def test_the_policy_allows_the_page_its_own_style_and_nothing_else(self):
        text, page = self.page(log=simulated())
        policy = page.find(f".//{HTML}meta[@http-equiv='Content-Security-Policy']").get("content")
        style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)[1]
        digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
        self.assertEqual(policy, f"default-src 'none'; style-src 'sha256-{digest}'; "
                                 "base-uri 'none'; form-action 'none'")
        self.assertNotRegex(style, r"@import|url\((?!#)|expression|javascript")
        for e in page.iter():
            self.assertNotIn(local(e.tag), {"script", "link", "img", "iframe", "object", "a",
                                            "form", "input", "foreignObject"})
            for key in e.attrib:
                self.assertFalse(key.startswith("on") or key in ("style", "src", "href"), key)

    def test_what_people_wrote_stays_words(self):
        notes = ["adjusted air <script>alert(1)</script>", "smoke 1 \"quoted\" 'twice' &amp; &#60;",
                 "remark ]]> --> </style></svg></title>", "adjusted draft \x01\x07\x1b[31m\x7f",
                 "remark \xff\xfe", "adjusted air " + "x" * 10_000, "\u202e right to left",
                 "remark " + "&" * 3000]
        rows = steady_log(400).splitlines()
        log = rows[0].encode() + b"\n"
        for i, row in enumerate(rows[1:]):
            if i % 45 == 0 and i // 45 < len(notes):
                note = notes[i // 45]
                log += b"# " + (note.encode("latin-1") if "\xff" in note
                                else note.encode()) + b"\n"
            log += row.encode() + b"\n"
        settings = self.file("visit.toml",
                             "[particulars]\ncustomer = '<b>\"Bold\"</b> & Sons'\n"
                             "remarks = '</title><script>'\n")
        text, page = self.page("--settings", settings, log=log)
        self.assertNotIn("<script", text)
        self.assertNotIn("<b>\"", text)
        self.assertFalse(set(map(ord, text)) & ({*range(32)} - {10} | {*range(127, 160)}))
        body = words_of(page.find(HTML + "body"))
        self.assertIn("<b>\"Bold\"</b> & Sons", body)
        self.assertIn("adjusted air <script>", body)
        self.assertLess(len(text), 250_000)

    def test_pictures_have_names_and_times_are_told(self):
        _, page = self.page(log=simulated())
        for picture in self.pictures(page):
            named = [page.find(f".//*[@id='{i}']") for i in picture.get("aria-labelledby").split()]
            self.assertEqual([local(e.tag) for e in named], ["title", "desc"])
            self.assertTrue(all(words_of(e).strip() for e in named))
        said = [words_of(e) for e in page.iter(SVG + "text")]
        for word in ("adjusted air", "smoke trace", "Stack temperature, °F", "O2, %"):
            self.assertIn(word, " ".join(said))

    def test_units_asked_for_are_those_of_the_pictures(self):
        _, page = self.page("--show", "degC,Pa", log=simulated())
        said = " ".join(words_of(e) for e in page.iter(SVG + "text"))
        self.assertIn("Stack temperature, °C", said)
        self.assertIn("Draft at breech, Pa", said)
        self.assertNotIn("°F", said)

    def test_every_element_of_a_picture_stands_within_it(self):
        _, page = self.page(log=simulated())
        for picture in self.pictures(page):
            height = float(picture.get("height"))
            for e in picture.iter():
                for key in ("x", "x1", "x2", "cx"):
                    value = e.get(key, "0%")
                    if value.endswith("%"):
                        self.assertTrue(-0.01 <= float(value[:-1]) <= 100.01, value)
                for key in ("y", "y1", "y2", "cy"):
                    self.assertLessEqual(float(e.get(key, "0")), height)

    def test_the_same_log_makes_the_same_page(self):
        self.assertEqual(self.page(log=simulated())[0], self.page(log=simulated())[0])

    def test_golden(self):
        _, page = self.page(log=(GOLDEN / "visit.csv").read_bytes())
        kept = GOLDEN / "visit_page.txt"
        now = list(outline(page.find(HTML + "body")))
        if os.environ.get("RENEW_GOLDEN"):
            kept.write_text("\n".join(now) + "\n", encoding="utf-8")
        self.assert_alike(now, kept.read_text(encoding="utf-8").splitlines())

    def test_the_picture_in_readme_is_that_of_the_demo(self):
        drawn = picture(self.page(log=simulated("whole_visit", 3))[0])
        kept = GOLDEN / "whole_visit.svg"
        if os.environ.get("RENEW_GOLDEN"):
            kept.write_text(drawn, encoding="utf-8")
        self.assert_alike(*(list(outline(ElementTree.fromstring(text)))
                            for text in (drawn, kept.read_text(encoding="utf-8"))))

    def assert_alike(self, now, before):
        self.assertEqual([NUMBER.sub("#", line) for line in now],
                         [NUMBER.sub("#", line) for line in before])
        for new, old in zip(now, before):
            for a, b in zip(map(float, NUMBER.findall(new)), map(float, NUMBER.findall(old))):
                self.assertLessEqual(abs(a - b), max(0.02 * abs(b), 0.6), f"{new}\n{old}")


if __name__ == "__main__":
    main()
