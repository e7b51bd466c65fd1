# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""How logs are read, as a table: tiny inputs, and what must come of each.

A row: what it is about, the log, the frames that must come of it (time and values as `look frames`
writes them, `-` for no value, marks behind), then words for the command, faults counted, kinds of
assumption and breaks that must be said. What is not named must not be said.
"""

import csv
import io
import re
from pathlib import Path

from command import CommandTest, events, main, run, simulated

UNASKED = ("fuel", "required", "combustion_check")


def frames_of(out):
    """`time value value mark`, a line each; the header may change on the way."""
    lines = []
    for row in csv.reader(io.StringIO(out.decode())):
        if row[0] == "time_s":
            continue
        cells = [row[0], *row[2:-1]]
        lines.append(" ".join(c or "-" for c in cells) + (f" {row[-1]}" if row[-1] else ""))
    return lines


class Reading(CommandTest):
    def check(self, what, log, frames, words=(), rejected=None, assumed=(), breaks=(),
              channels=None):
        if isinstance(log, str):
            log = log.encode()
        if isinstance(frames, str):
            frames = frames.split("\n") if frames else []
        with self.subTest(what):
            looked = run("look", "frames", *words, log=log)
            self.assertEqual(frames_of(looked.stdout), frames, looked.stderr.decode())
            if channels is not None:
                header = looked.stdout.decode().splitlines()[0].split(",")
                self.assertEqual(header[2:-1], channels.split())
            done = run("settle", "--jsonl", "--combustion-check", "off", *words, log=log)
            self.assertEqual(done.returncode, 2 if rejected and not frames else 1)
            said = events(done.stdout)
            end = said[-1]
            self.assertEqual(end["event"], "end")
            self.assertEqual(end["rejected"], rejected or {})
            kinds = [a.split(":")[0] for a in end["assumptions"]]
            self.assertEqual(sorted({k for k in kinds if k not in UNASKED}), sorted(assumed))
            self.assertEqual([e["kind"] for e in said if e["event"] == "break"], list(breaks))

    def test_separators_and_decimal_signs(self):
        comma = {"assumed": ["decimal_comma"]}
        for name, s in (("semicolon", ";"), ("tab", "\t"), ("stroke", "|"), ("blanks", "   ")):
            self.check(f"{name}, points", f"time_s{s}stack_temp_degF{s}o2_pct\n0.5{s}450.5{s}5.1\n",
                       "0.5 450.5 5.1")
            self.check(f"{name}, commas", f"time_s{s}stack_temp_degF{s}o2_pct\n0{s}450,5{s}5,1\n",
                       "0 450.5 5.1", **comma)
            self.check(f"{name}, a comma in the time first",
                       f"time_s{s}stack_temp_degF\n0,5{s}450\n1,0{s}450,5\n", "0.5 450\n1 450.5",
                       **comma)
        head = "time_s,stack_temp_degF,o2_pct\n"
        self.check("commas, points", head + "0.5,450.5,5.1\n", "0.5 450.5 5.1")
        self.check("quotes around all", '"time_s","stack_temp_degF","o2_pct"\n"0","450.5","5.1"\n',
                   "0 450.5 5.1")
        self.check("decimal commas in quotes", head + '"0,5","450,5","5,1"\n', "0.5 450.5 5.1",
                   **comma)
        self.check("decimal commas between commas: not told apart", head + "0,450,5,5,1\n", "",
                   rejected={"too_many_fields": 1})
        self.check("a separator behind the last field", head + "0,450,5,\n", "0 450 5",
                   assumed=["trailing_separator"])
        self.check("one in front as well", "," + head + ",0,450,5\n", "0 450 5")
        self.check("padded", " time_s , stack_temp_degF ,o2_pct \n 0 , 450 , 5 \n", "0 450 5")
        self.check("aligned columns",
                   "time_s  stack_temp_degF   o2_pct\n   0      450.5      5.1\n",
                   "0 450.5 5.1")

    def test_numbers(self):
        head = "time_s;stack_temp_degF;co_ppm\n"
        for what, cell, value in (("1.234,5", "1.234,5", "1234.5"),
                                  ("1,234.5", "1,234.5", "1234.5"),
                                  ("apostrophe", "1'234.5", "1234.5"),
                                  ("blank", "1 234.5", "1234.5"),
                                  ("no-break space", "1\u00a0234.5", "1234.5"),
                                  ("narrow no-break space", "12\u202f345", "12345")):
            kinds = ["thousands"] + ["decimal_comma"] * (what == "1.234,5")
            self.check(what, head + f"0;450;{cell}\n", f"0 450 {value}", assumed=kinds)
        self.check("could be both, until the log has shown its sign",
                   head + "0;450;1,234\n1;450;1.234\n2;450,5;1.234\n3;450,5;1,234\n",
                   "0 450 -\n1 450 -\n2 450.5 1234\n3 450.5 1.234",
                   rejected={"ambiguous_number": 2}, assumed=["decimal_comma", "thousands"])
        self.check("told", head + "0;450;1,234\n", "0 450 1.234", ["--decimal", "comma"])
        self.check("true minus", "time_s,draft_breech_Pa\n0,\u221210\n", "0 -10",
                   ["--require", "draft_breech"])
        for cell, value in (("4.5E+02", "450"), ("450.", "450"), ("+450", "450"), (".5", "0.5"),
                            ("-.5", "-0.5"), ("-0", "0"), ("007", "7")):
            self.check(cell, f"time_s,stack_temp_degF\n0,{cell}\n", f"0 {value}")
        for cell in ("9,,9", "--5", "5-", "1 2", "0x1F", "4.5D+02", "1e999", "12:30", "450*",
                     "true",
                     "450 F F", "ERROR 3", "5.1.2", "= 450", "\u00b1 5"):
            fault = "too_many_fields" if "," in cell else \
                "not_text" if "\u00b1" in cell else "bad_number"
            frames = "1 7" if fault != "bad_number" else "0 -\n1 7"
            self.check(f"no number: {cell}", f"time_s,stack_temp_degF\n0,{cell}\n1,7\n", frames,
                       rejected={fault: 1})

    def test_markers_are_never_numbers(self):
        head = "time_s,stack_temp_degF,o2_pct\n"
        for cell in ("", "-", "--", "----", "---.-", "***", "?", "...", "\u2014", "\u2026", "NaN",
                     "-nan",
                     "INF", "-INF", "\u221e", "n/a", "N.A.", "#N/A", "NULL", "none", "Err", "OPEN",
                     "1.#QNAN", "-1.#IND", "nan(ind)", "#VALUE!", "no data", "not available"):
            self.check(f"no value: {cell}", head + f"0,{cell},5\n", "0 - 5")
        for cell in ("OVR", "+OVR", "Over Range", "OL", "O.L", "0L", "OFL", "HI", "HHHH"):
            self.check(f"above: {cell}", head + f"0,450,{cell}\n", "0 450 - o2:over_range")
        for cell in ("LO", "UDR", "-OVR", "LLLL", "underrange"):
            self.check(f"below: {cell}", head + f"0,450,{cell}\n", "0 450 - o2:under_range")
        for cell, mark in ((">20", "over"), (">= 20 %", "over"), ("\u2265 20", "over"),
                           ("<5", "under"), ("\u22645 %", "under")):
            self.check(f"bound: {cell}", head + f"0,450,{cell}\n", f"0 450 - o2:{mark}_range",
                       assumed=["bound"])
        self.check("named ones", head + "0,999.0,5\n1,-3276.80,5\n2,999.1,5\n",
                   "0 - 5\n1 - 5\n2 999.1 5",
                   ["--missing", "999.0,-3276.8"])

    def test_units(self):
        self.check("UCUM codes",
                   "time_s,stack_temp_[degF],ambient_temp_Cel,o2_%,co_[ppm],"
                   "draft_breech_[in_i'H2O]\n"
                   "0,450,20,5.1,20,-0.04\n", "0 450 20 5.1 20 -0.04",
                   channels="stack_temp_degF ambient_temp_degC o2_pct co_ppm draft_breech_inH2O")
        self.check("more of them",
                   "time_ms,stack_temp_K,o2_mol/mol,co_10*-6,"
                   "draft_breech_mm[H2O],draft_overfire_hPa\n"
                   "500,505,0.051,20,-1,-0.05\n", "0.5 505 0.051 20 -1 -0.05",
                   channels="stack_temp_K o2_fraction co_ppm draft_breech_mmH2O draft_overfire_hPa")
        self.check("beside the name, in any bracket",
                   "Time [s],Stack temp [\u00b0F],O2 (% vol),CO/ppm,Breech draft [\"WC],NO ppm\n"
                   "0,450,5.1,20,-0.04,60\n", "0 450 5.1 20 60 -0.04", assumed=["column_proposed"],
                   channels="stack_temp_degF o2_pct co_ppm no_ppm draft_breech_inH2O")
        for sign in (b"\xb0", b"\xf8", b"\xba", b"\xa1", b"\xc2\xba", b""):
            self.check(f"degree sign {sign}", b"Time [s],Stack temp [" + sign + b"F]\n0,450\n",
                       "0 450", assumed=["column_proposed"], channels="stack_temp_degF")
        units = "Time,Stack temp,O2,CO\n"
        self.check("a row of units", units + "min,\u00b0C,%,ppm\n0.5,232,5.1,20\n", "30 232 5.1 20",
                   assumed=["column_proposed"], channels="stack_temp_degC o2_pct co_ppm")
        self.check("in brackets", units + "[s],[C],[mol/mol],[%]\n1,232,0.051,0.002\n",
                   "1 232 0.051 0.002", assumed=["column_proposed"],
                   channels="stack_temp_degC o2_fraction co_pct")
        self.check("one of them blank", units + "s,C,%,\n1,232,5.1,20\n", "1 232 5.1",
                   rejected={"no_unit": 1}, assumed=["column_proposed"])
        self.check("it is not what the names say", "time_s,stack_temp_degF\ns,degC\n1,450\n",
                   "1 450",
                   assumed=["units_contradict"])
        self.check("no unit anywhere", "time_s,stack temp,o2_pct\n0,450,5\n", "0 5",
                   rejected={"no_unit": 1}, assumed=["column_proposed"], channels="o2_pct")
        self.check("in the cells alone", units + "0,450 F,5.1 %,20 ppm\n1,451F,5.2%,21ppm\n",
                   "0 450 5.1 20\n1 451 5.2 21", assumed=["column_proposed", "time_in_seconds"])
        self.check("in a cell, another than the column's",
                   "time_s,stack_temp_degF,co_ppm\n0,232.222222222222 \u00b0C,0.002 %\n",
                   "0 450 20",
                   assumed=["cell_unit"])
        self.check("in a cell, of another quantity", "time_s,stack_temp_degF\n0,450 ppm\n1,450\n",
                   "0 -\n1 450", rejected={"bad_number": 1})

    def test_a_difference_is_never_taken_for_a_temperature(self):
        self.check("net and difference",
                   "Time [s],Net stack temp [K],Delta T [K],T stack - T ambient [K],"
                   "Stack temp [C]\n"
                   "0,200,200,200,232\n", "0 232", assumed=["column_ignored", "column_proposed"],
                   channels="stack_temp_degC")

    def test_names(self):
        for name in ("Stack temp [F]", "STACK_TEMP_DEGF", "StackTemp(F)", "T stack/degF",
                     "T_stack F",
                     "Tstack [\u2109]", "Flue gas temperature (deg F)", "flue-temp [\u00b0F]",
                     "Stack\u00a0temp [F]", "\u200bstack_temp_degF"):
            self.check(name, f"time_s,{name}\n0,450\n", "0 450", assumed=["column_proposed"],
                       channels="stack_temp_degF")
        for name in ("Time [s]", "time/s", "TIME_S", "Elapsed time (s)", "timestamp_s"):
            self.check(name, f"{name},stack_temp_degF\n7,450\n", "7 450",
                       assumed=["column_proposed"])
        self.check("padded to a hundred letters",
                   f"{'time_s':<100},{'stack_temp_degF':<100},{'x':<100}\n0,450,1\n", "0 450",
                   assumed=["column_ignored"])
        hundreds = ",".join(f"sensor {i} of the hood above" for i in range(250))
        self.check("two hundred and fifty more", f"time_s,{hundreds},stack_temp_degF\n0,"
                   + "1," * 250 + "450\n", "0 450", assumed=["column_ignored"])
        self.check("the same channel twice", "time_s,stack_temp_degF,stack_temp_degC\n0,450,9\n",
                   "0 450", assumed=["column_doubled"])
        self.check("a number for each row", "No,time_s,stack_temp_degF\n1,0,450\n", "0 450",
                   assumed=["column_ignored"])
        self.check("draft: which, is not said", "time_s,stack_temp_degF,Draft [Pa]\n0,450,-10\n",
                   "0 450", assumed=["column_ignored"])
        self.check("no time column", "stack_temp_degF,o2_pct\n450,5\n", "",
                   rejected={"no_layout": 2})

    def test_clocks(self):
        noon = 1772884780  # 2026-03-07T11:59:40Z, by `date -u +%s`

        def at(what, stamps, times, *words, assumed=("utc",), rejected=None, breaks=()):
            log = "time;stack_temp_degF\n" + "".join(f"{s};450\n" for s in stamps)
            self.check(what, log, [f"{t} 450" for t in times], words, rejected, assumed, breaks)

        for stamp in ("2026-03-07T11:59:40", "2026-03-07 11:59:40", "2026/03/07 11:59:40",
                      "20260307T115940", "20260307 115940", "2026-W10-6T11:59:40",
                      "2026W106T115940",
                      "2026-066T11:59:40", "2026066T115940", "7 Mar 2026 11:59:40",
                      "Sat Mar  7 11:59:40 2026", "March 7, 2026 11:59:40", "07-Mar-2026 11:59:40"):
            at(stamp, [stamp], [noon])
        for stamp in ("2026-03-07T11:59:40Z", "2026-03-07T12:59:40+01:00",
                      "2026-03-07T12:59:40+0100",
                      "2026-03-07 06:59:40-05", "Sat, 07 Mar 2026 11:59:40 GMT"):
            at(stamp, [stamp], [noon], assumed=())
        for stamp in ("07.03.2026 11:59:40", "7.3.26 11:59:40"):
            at(stamp, [stamp], [noon], assumed=("utc", "day_first"))
        at("a fraction, by comma or point", ["2026-03-07T11:59:40,5", "2026-03-07T11:59:41.25"],
           [f"{noon}.5", f"{noon + 1}.25"])
        at("without seconds", ["2026-03-07 11:59", "2026-03-07 12:00"], [noon - 40, noon + 20])
        at("12 PM is noon, in any spelling",
           ["2026-03-07 11:59:40 am", "2026-03-07 12:00:00 PM", "2026-03-07 12:00:10pm",
            "2026-03-07 12:00:20 p.m.", "2026-03-07 1:00:00 PM"],
           [noon, noon + 20, noon + 30, noon + 40, noon + 3620])
        at("12 AM is midnight",
           ["2026-03-07 12:00:00 AM", "2026-03-07 12:30:00am", "2026-03-07 1:00 AM"],
           [noon - 43180, noon - 41380, noon - 39580])
        at("a clock without a date goes over midnight", ["11:59:50 PM", "12:00:00 AM"],
           [86390, 86400], assumed=("utc", "date"))
        at("day or month first?", ["03/07/2026 11:59:40"], [], assumed=(),
           rejected={"ambiguous_time": 1})
        at("no doubt, and what it teaches", ["03/17/2026 11:59:40", "03/17/2026 12:00 PM"],
           [noon + 864000, noon + 864020], assumed=("utc", "month_first"))
        at("the other order", ["17/03/2026 11:59:40"], [noon + 864000],
           assumed=("utc", "day_first"))
        at("told", ["03/07/2026 11:59:40"], [noon], "--time-format", "%m/%d/%Y %H:%M:%S")
        at("no year, told", ["Mar  7 11:59:40"], [noon], "--year", "2026")
        at("no year", ["Dec 31 23:59:50", "Jan  1 00:00:00"], [978307190, 978307200],
           assumed=("utc", "year"))
        for tail, unit in (("", "s"), ("000", "ms"), ("000000", "us"), ("000000000", "ns")):
            at(f"epoch in {unit}", [f"{noon}{tail}"], [noon], assumed=("epoch",))
        at("small numbers", ["0", "0,5"], ["0", "0.5"], assumed=("time_in_seconds",))
        at("a stamp that cannot be read decides nothing",
           ["5e20", "2026-02-30 00:00", "13:00 PM", "-1"],
           [-1], assumed=("time_in_seconds",), rejected={"bad_time": 3})
        for column, step, seconds in (("time_min", "0.5", "30"), ("time_h", "0.01", "36"),
                                      ("time_ms", "250", "0.25"), ("time_us", "5", "0.000005")):
            self.check(column, f"{column},stack_temp_degF\n{step},450\n", f"{seconds} 450")
        self.check("date and time apart",
                   "Date,Time,stack_temp_degF\n2026-03-07,11:59:40,450\n2026-03-07,12:00 PM,451\n",
                   f"{noon} 450\n{noon + 20} 451", assumed=["column_proposed", "utc"])

    def test_no_time_column(self):
        names = ["--fields", "stack_temp_degF,o2_pct", "--interval", "2s"]
        kinds = ["interval"]
        self.check("no header", "450,5\n451,5\n", "0 450 5\n2 451 5", names, assumed=kinds)
        self.check("a header", "stack_temp_degF,o2_pct\n450,5\n451,5\n", "0 450 5\n2 451 5",
                   names[2:],
                   assumed=kinds)
        self.check("a row that cannot be read took its time",
                   b"450,5\n4\x015,5\n452,5,5\n453,x\n\n# a note\n454,5\n",
                   "0 450 5\n6 453 -\n8 454 5", names,
                   rejected={"not_text": 1, "too_many_fields": 1, "bad_number": 1}, assumed=kinds)
        self.check("a row that could be units", "o2_fraction\n1\n1\n", "0 1\n2 1", names[2:],
                   assumed=kinds)

    def test_labels(self):
        words = ["--labels", "T=stack_temp:degF,O2=o2:pct,CO=co:ppm"]
        self.check("any order, any case, : or =, any unit",
                   "time_s=0 T=450F O2=5.2% CO=12ppm\nco: 13 PPM, o2:5.3 %, t:451 F, TIME_S:1\n"
                   "time_s=2;CO=14;T = 452;O2=5.4\ntime_s=3|t=233.333333333333 C|x=7\n",
                   "0 450 5.2 12\n1 451 5.3 13\n2 452 5.4 14\n3 452 - -", words,
                   assumed=["cell_unit"])
        self.check("markers", "time_s=0 T=---- O2=OVR CO=>2000\ntime_s=1 T= O2=5 CO=x\n",
                   "0 - - - o2:over_range co:over_range\n1 - 5 -", words,
                   rejected={"bad_number": 1},
                   assumed=["bound"])
        self.check("JSON lines", '{"time_s": 0, "T": 450, "O2": 5.2, "CO": null}\n', "0 450 5.2 -",
                   words)
        self.check("a clock of their own", "at=2026-03-07T11:59:40Z T=450F O2=5%\n",
                   "1772884780 450 5", ["--labels", "T=stack_temp:degF,O2=o2:pct,at=time"])
        self.check("no times", "T=450F O2=5%\nboot ok\nO2: 5.1 % T: 451 F\n",
                   "0 450 5 -\n4 451 5.1 -",
                   [*words, "--interval", "2s"], rejected={"too_few_fields": 1},
                   assumed=["interval"])

    def test_headers_that_come_again(self):
        log = "time_s,stack_temp_degF,o2_pct\n0,450,5\n"
        self.check("the same", log + log.replace("\n0,", "\n1,"), "0 450 5\n1 450 5")
        self.check("another order", log + "o2_pct,time_s,stack_temp_degF\n5,1,451\n",
                   "0 450 5\n1 451 5", breaks=["new_header"])
        self.check("other units", log + "time_s,stack_temp_degC,o2_pct\n1,233,5\n",
                   "0 450 5\n1 233 5",
                   breaks=["new_units"])
        self.check("more columns", log + log[:29].strip() + ",co_ppm\n1,451,5,20\n",
                   "0 450 5\n1 451 5 20", breaks=["new_header"])
        self.check("another separator", log + "time_s;stack_temp_degF;o2_pct\n1;451,5;5\n",
                   "0 450 5\n1 451.5 5", breaks=["new_header"], assumed=["decimal_comma"])
        named = "Time,Stack,O2\ns,F,%\n"
        self.check("other units in the row under it", named + "0,450,5\n" + named.replace("F", "C")
                   + "1,233,5\n", "0 450 5\n1 233 5", breaks=["new_units"],
                   assumed=["column_proposed"])
        self.check("words before, between and after",
                   "Logger on\n" + log + "door opened\n1,451,5\nTotal: 2\n", "0 450 5\n1 451 5",
                   rejected={"no_layout": 1, "bad_time": 2})

    def test_time_is_judged(self):
        head = "time_s,stack_temp_degF\n"

        def rows(*times):
            return head + "".join(f"{t},{450 + i}\n" for i, t in enumerate(times))

        self.check("a row sent twice", head + "0,450\n1,451\n1,451\n2,452\n1,451\n3,453\n",
                   "0 450\n1 451\n2 452\n3 453", rejected={"repeated": 2})
        self.check("late", rows(0, 1, 3, 2.5, 4), "0 450\n1 451\n3 452\n2.5 453\n4 454",
                   breaks=["clock_back"])
        self.check("from 0 again", rows(100, 101, 0, 1), "100 450\n101 451\n0 452\n1 453",
                   breaks=["clock_back"])
        self.check("an hour set on", rows(0, 1, 3602, 3603), "0 450\n1 451\n3602 452\n3603 453",
                   breaks=["clock_jump"])
        self.check("decades", rows(0, 1, 800000000, 800000001),
                   "0 450\n1 451\n800000000 452\n800000001 453", breaks=["clock_jump"])
        self.check("a silence", rows(0, 1, 2000, 2001), "0 450\n1 451\n2000 452\n2001 453")

    def test_encodings_and_line_ends(self):
        log = "time_s,stack_temp_degF\n0,450\n1,451\n"
        rows = "0 450\n1 451"
        for name in ("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"):
            self.check(name, log.encode(name), rows)
        for name, end in (("CR", "\r"), ("CR LF", "\r\n"), ("empty lines", "\n\n"),
                          ("LF CR", "\n\r")):
            self.check(name, log.replace("\n", end), rows)
        self.check("no last line end", log + "2,452", rows + "\n2 -", rejected={"incomplete": 1})
        self.check("NULs", log.encode() + b"\0" * 50 + b"2,452\n", rows + "\n2 452",
                   assumed=["padding"])
        self.check("one NUL", log.encode() + b"2,4\x0052\n3,453\n", rows + "\n3 453",
                   rejected={"not_text": 1})
        self.check("letters of two encodings", "time_s,stack_temp_degF\n0,450 \u00b0F\n".encode()
                   + b"1,451 \xb0F\n", rows)

    def test_frames_are_read_back_as_they_were_written(self):
        """`look frames` of a log, and of what that said: the same but for the numbers of lines."""
        cases = Path(__file__).parent.parent / "cases"
        logs = [(name, (cases / name).read_bytes()) for name in (
            "030-european.csv", "032-markers.csv", "035-twelve-hour-clock.csv",
                                                                 "044-messy-cells.csv",
            "034c-latin1-degree.csv", "022-lone-spikes.csv")]
        logs.append(("a visit", simulated()))
        logs.append(("many places",
                     "time_s,stack_temp_K,o2_fraction,co_fraction,draft_breech_mbar\n"
                     "0.000000001,505.372222222,0.050999999,0.0000200001,-0.0996356\n"
                     "-7.5,0.000000001,0.000000000001,0.000000000000001,0.0000000001\n"))
        for name, log in logs:
            with self.subTest(name):
                once = run("look", "frames", log=log).stdout
                self.assertGreater(len(frames_of(once)), 1)
                # A mark stands in a column of its own; the cell beside is blank.
                values = [f.split(" ") for f in frames_of(once)]
                again = frames_of(run("look", "frames", log=once).stdout)
                columns = len(once.decode().splitlines()[0].split(",")) - 2
                self.assertEqual([f.split(" ") for f in again], [v[:columns] for v in values])

    def test_numbers_of_json_lines_are_numbers_and_not_cut(self):
        """Times are exact decimals, values those of the table of readings."""
        head = "time_ns,stack_temp_degF\n"
        log = head + "".join(f"{1772884780000000001 + 10**9 * t},{450 + t % 2}\n"
                             for t in range(200))
        out = run("settle", "--jsonl", log=log).stdout.decode()
        times = re.findall(r'"(?:time|from|to|declared)_s":([0-9.]+)', out)
        self.assertTrue(times)
        for t in times:
            self.assertRegex(t, r"^17728[0-9]{5}\.000000001$")

    def test_whole_test_under_pressure_is_questioned(self):
        head = "time_s,stack_temp_degF,draft_breech_inH2O\n"
        log = head + "".join(f"{t},450,0.04\n" for t in range(20))
        self.check("positive", log, [f"{t} 450 0.04" for t in range(20)], assumed=["draft_sign"])
        self.check("told", log, [f"{t} 450 -0.04" for t in range(20)], ["--suction-positive"])
        done = run("settle", "--combustion-check", "off", log=log)
        self.assertIn(b"--suction-positive", done.stdout)


if __name__ == "__main__":
    main()
