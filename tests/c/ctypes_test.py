# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The C face from Python's ctypes says what the command says, under the same names."""

import ctypes
import json
import os
import subprocess
import sys
import tempfile
import unittest
from decimal import Decimal
from pathlib import Path

import header

C = header.load(os.environ["STILLING_C"])
STILLING = os.environ["STILLING"]
N = header.NUMBERS
KINDS = {N[f"STILLING_{k}"]: k.lower() for k in
         ("PLATEAU", "PHASE", "BURN", "NOTE", "BREAK", "REJECTION", "ASSUMPTION", "LAYOUT")}
CANONICAL = {"stack_temp_degF": ("stack_temp_K", lambda x: (x + 459.67) / 1.8, 1.8),
             "ambient_temp_degF": ("ambient_temp_K", lambda x: (x + 459.67) / 1.8, 1.8),
             "o2_pct": ("o2_fraction", lambda x: x / 100, 100),
             "co_ppm": ("co_fraction", lambda x: x / 1e6, 1e6),
             "draft_breech_inH2O": ("draft_breech_Pa", lambda x: x * 249.08891, 1 / 249.08891),
             "draft_overfire_inH2O": ("draft_overfire_Pa", lambda x: x * 249.08891, 1 / 249.08891)}


class Session:
    def __init__(self):
        self.memory = ctypes.create_string_buffer(C.stilling_session_size() + 16)
        at = ctypes.addressof(self.memory)
        at += -at % C.stilling_session_alignment()
        self.live = ctypes.c_void_p()
        status = C.stilling_session_begin(at, C.stilling_session_size(), None,
                                          ctypes.byref(self.live))
        assert status == N["STILLING_OK"], C.stilling_status_text(status)
        self.items = []

    def poll(self):
        while True:
            item = header.structs["stilling_item"]()
            if C.stilling_poll(self.live, ctypes.byref(item)) != N["STILLING_OK"]:
                return
            kind = KINDS[item.kind]
            self.items.append((kind, getattr(item.of, "broke" if kind == "break" else kind)))

    def push(self, log, piece):
        for at in range(0, len(log), piece):
            rest = log[at:at + piece]
            while rest:
                taken = ctypes.c_size_t()
                status = C.stilling_push_bytes(self.live, rest, len(rest), ctypes.byref(taken))
                assert status in (N["STILLING_OK"], N["STILLING_POLL_FIRST"])
                rest = rest[taken.value:]
                self.poll()

    def finish(self):
        assert C.stilling_finish(self.live) == N["STILLING_OK"]
        self.poll()

    def of(self, kind):
        return [item for k, item in self.items if k == kind]


def judged(log, piece):
    session = Session()
    session.push(log, piece)
    session.finish()
    return session


def settled(log):
    out = subprocess.run([STILLING, "settle", "--jsonl", "-"], input=log, capture_output=True,
                         timeout=120, check=True).stdout
    return [json.loads(line, parse_float=Decimal) for line in out.splitlines()]


class Face(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.log = subprocess.run([STILLING, "simulate", "whole_visit", "--seed", "3"],
                                 capture_output=True, timeout=120, check=True).stdout
        cls.said = settled(cls.log)
        cls.session = judged(cls.log, 4096)

    def events(self, kind):
        return [e for e in self.said if e["event"] == kind]

    def test_plateaus_and_readings_under_the_names_of_the_json_lines(self):
        plateaus, wanted = self.session.of("plateau"), self.events("plateau")
        self.assertGreater(len(wanted), 3)
        self.assertEqual(len(plateaus), len(wanted))
        for p, e in zip(plateaus, wanted):
            for name in ("declared", "from", "to", "released"):
                said = e[f"{name}_s"]
                if name in ("to", "released"):
                    self.assertEqual(bool(getattr(p, f"has_{name}")), said is not None)
                if said is not None:
                    self.assertEqual(getattr(p, f"{name}_ns"), said * 10**9)
            cause = C.stilling_cause_name(p.end_reason).decode()
            self.assertEqual(None if cause == "none" else cause, e["end_reason"])
            self.assertEqual(bool(p.creeping), "creeping" in e["flags"])
            self.assertEqual(bool(p.hunting), "hunting" in e["flags"])
            there = {name for name, *_ in p.readings._fields_ if getattr(p.readings, name).is_there}
            self.assertEqual(there, {CANONICAL[column][0] for column in e["readings"]})
            for column, reading in e["readings"].items():
                self.compare(column, getattr(p.readings, CANONICAL[column][0]), reading)

    def compare(self, column, c, said):
        _, canonical, factor = CANONICAL[column]
        for key, value in said.items():
            with self.subTest(column=column, key=key):
                got = getattr(c, key)  # every key of the line is a field
                flag = "has_rate" if key.startswith("rate") else f"has_{key}"
                if hasattr(c, flag):
                    self.assertEqual(getattr(c, flag), 0 if value is None else 1)
                if value is None:
                    continue
                # To the last place that is printed.
                place = float(Decimal(1).scaleb(Decimal(value).as_tuple().exponent))
                value = float(value)
                if key in ("value", "peak"):
                    got, value = got * factor, canonical(value) * factor
                elif key in ("u", "rate_per_min", "rate_bound_per_min", "remaining"):
                    got *= factor
                self.assertAlmostEqual(got, value, delta=0.501 * place)

    def test_phases(self):
        got = [(Decimal(p.time_ns) / 10**9, C.stilling_phase_name(p.phase).decode(),
                C.stilling_cause_name(p.reason).decode()) for p in self.session.of("phase")]
        self.assertEqual(got, [(e["time_s"], e["phase"], e["reason"])
                               for e in self.events("phase")])

    def test_pieces_change_nothing(self):
        for piece in (1, 37):
            again = judged(self.log[:60_000] if piece == 1 else self.log, piece)
            whole = judged(self.log[:60_000], 60_000) if piece == 1 else self.session
            self.assertEqual([(k, bytes(i)) for k, i in again.items],
                             [(k, bytes(i)) for k, i in whole.items])

    def test_another_process_goes_on_with_what_was_saved(self):
        half = len(self.log) // 2
        first = Session()
        first.push(self.log[:half], 4096)
        size = C.stilling_saved_size()
        memory = ctypes.create_string_buffer(size + 8)
        at = ctypes.addressof(memory) + -ctypes.addressof(memory) % 8
        self.assertEqual(C.stilling_save(first.live, at, size), N["STILLING_OK"])
        with tempfile.TemporaryDirectory() as folder:
            kept, rest = Path(folder, "kept"), Path(folder, "rest")
            kept.write_bytes(ctypes.string_at(at, size))
            rest.write_bytes(self.log[half:])
            done = subprocess.run([sys.executable, "-B", __file__, "go on", kept, rest],
                                  capture_output=True, timeout=120, check=True)
        went_on = [line.decode() for line in done.stdout.splitlines()]
        self.assertEqual([f"{k} {bytes(i).hex()}" for k, i in first.items] + went_on,
                         [f"{k} {bytes(i).hex()}" for k, i in self.session.items])
        self.assertTrue(any(line.startswith("plateau") for line in went_on))


def go_on(kept, rest):
    session = Session()
    status = C.stilling_restore(session.live, kept, len(kept))
    if status != N["STILLING_OK"]:
        sys.exit(C.stilling_status_text(status).decode())
    session.push(rest, 513)
    session.finish()
    for kind, item in session.items:
        print(kind, bytes(item).hex())


if __name__ == "__main__":
    if sys.argv[1:2] == ["go on"]:
        go_on(Path(sys.argv[2]).read_bytes(), Path(sys.argv[3]).read_bytes())
    else:
        unittest.main()
