# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The package gives the command's answers, to the last bit, whatever form the input has."""

import json
import tempfile
import pathlib
import unittest

import numpy as np
import stilling
from support import TESTS, as_text, columns_of, command, main, plain_test

SCENARIOS = ("first_visit", "whole_visit", "staged_firing", "broken_clock", "faulty_sensors",
             "hunting", "never_lit", "short_cycling")


def events(jsonl):
    return [json.loads(line) for line in jsonl.splitlines()]


class Same(unittest.TestCase):
    def test_files_as_the_command_has_them(self):
        logs = sorted((TESTS / "cases").glob("*.csv"))
        self.assertGreater(len(logs), 30)
        for log in logs:
            said = command("settle", "--jsonl", log)
            try:
                self.assertEqual(stilling.settle(log).jsonl, said, log.name)
            except ValueError as e:
                self.assertNotIn('"plateau"', said, f"{log.name}: {e}")

    def test_bytes_as_the_command_has_them(self):
        for scenario in SCENARIOS:
            log, _ = stilling.simulate(scenario, seed=5)
            self.assertEqual(stilling.settle(log).jsonl, command("settle", "--jsonl", log=log),
                             scenario)

    def test_arrays_as_the_text_they_were_read_from(self):
        for scenario in SCENARIOS:
            columns = plain_test(scenario, 5)
            text = as_text(columns)
            self.assertEqual(events(stilling.settle(**columns).jsonl),
                             events(command("settle", "--jsonl", log=text.encode())), scenario)

    def test_options_as_the_command_has_them(self):
        log, _ = stilling.simulate("first_visit", seed=5)
        for options, words in ((dict(criterion="strict"), ["--criterion", "strict"]),
                               (dict(require=["stack_temp", "o2"]), ["--require", "stack_temp,o2"]),
                               (dict(finished=True), ["--finished"]),
                               (dict(forecast=True), ["--forecast"]),
                               (dict(combustion_check=False), ["--combustion-check", "off"]),
                               (dict(fuel="natural_gas"), ["--fuel", "natural_gas"]),
                               (dict(show=["degC", "Pa"]), ["--show", "degC,Pa"])):
            self.assertEqual(stilling.settle(log, **options).jsonl,
                             command("settle", "--jsonl", *words, log=log), options)

    def test_a_result_holds_the_last_word_on_each_plateau(self):
        log, _ = stilling.simulate("first_visit", seed=7)
        result = stilling.settle(log)
        said = [e for e in events(result.jsonl) if e["event"] == "plateau"]
        last = {e["declared_s"]: e for e in said}
        self.assertEqual([p.event for p in result.plateaus], list(last.values()))
        self.assertGreater(len(said), len(last))
        p = result.plateaus[0]
        self.assertEqual(p.readings["o2_pct"].value, p.event["readings"]["o2_pct"]["value"])
        self.assertIn("±", repr(p))

    def test_pieces_change_nothing(self):
        log, _ = stilling.simulate("first_visit", seed=3)
        whole = stilling.settle(log)
        for size in (1, 7, 4096):
            live = stilling.Session()
            heard = []
            for i in range(0, len(log) if size > 1 else 5000, size):
                heard += live.push(log[i:i + size])
            if size > 1:
                heard += live.finish()
                self.assertEqual(live.result, whole)
                self.assertEqual(heard[-1], whole.summary)

    def test_rows_in_pieces_change_nothing(self):
        columns = plain_test()
        whole = stilling.settle(**columns)
        live = stilling.Session()
        for i in range(0, len(columns["time_s"]), 100):
            live.push({n: c[i:i + 100] for n, c in columns.items()})
        live.finish()
        self.assertEqual(live.result.plateaus, whole.plateaus)

    def test_many_files_and_one_that_is_none(self):
        with tempfile.TemporaryDirectory() as folder:
            paths = []
            for seed in range(8):
                path = pathlib.Path(folder) / f"{seed}.csv"
                path.write_bytes(stilling.simulate("cold_start", seed=seed)[0])
                paths.append(path)
            paths += [pathlib.Path(folder) / "none.csv", pathlib.Path(folder) / "prose.csv"]
            paths[-1].write_bytes(b"no log at all\n")
            results = stilling.settle_files(paths, jobs=2)
            self.assertEqual(list(results), [str(p) for p in paths])
            for p in paths[:-2]:
                self.assertEqual(results[str(p)], stilling.settle(p))
            self.assertIn("No such file", str(results[str(paths[-2])]))
            self.assertIn("no_layout", str(results[str(paths[-1])]))


if __name__ == "__main__":
    main()
