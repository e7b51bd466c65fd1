#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Scores settled readings against the truth of invented tests.

    score.py TRUTHS OUTPUTS [--json FILE] [--quiet]

TRUTHS holds NAME.truth.json, OUTPUTS one NAME.out.jsonl each, as `stilling settle --jsonl` writes
them. README.md says what is measured. The last line of output is one JSON object with the totals.
"""

import argparse
import json
import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field
from pathlib import Path

SLACK = 1.5        # clearly not steady above this multiple of the limits
MIN_TRUE_S = 90    # shorter true intervals need not be found
SETTLE_S = 60      # part of a true interval that may be spent looking
CLEAR_S = 90       # a disturbance asks for a release when it is clear within this time
GOOD_SHARE = 0.8   # of a correct plateau's declared seconds that are not clearly unsteady
FOUND_SHARE = 0.5  # of a true interval, less SETTLE_S, that one plateau must cover


@dataclass
class Piece:
    """A true interval that must be found."""
    start: float
    end: float
    fresh: bool
    ended_by: dict | None


@dataclass
class Plateau:
    declared: float
    end: float
    first: float
    released: float
    readings: dict


@dataclass
class Tally:
    sessions: int = 0
    no_output: int = 0
    bad_lines: int = 0
    seconds: int = 0
    declared_s: int = 0
    false_s: int = 0
    live_s: int = 0
    live_false_s: int = 0
    plateaus: int = 0
    correct: int = 0
    true: int = 0
    found: int = 0
    delays: list = field(default_factory=list)
    releases: list = field(default_factory=list)
    live_releases: list = field(default_factory=list)
    errors: dict = field(default_factory=dict)


def quantile(xs, q):
    if not xs:
        return None
    xs = sorted(xs)
    at = q * (len(xs) - 1)
    i = int(at)
    return xs[i] + (xs[min(i + 1, len(xs) - 1)] - xs[i]) * (at - i)


def share(part, whole):
    return part / whole if whole else None


def is_number(x):
    return isinstance(x, (int, float)) and not isinstance(x, bool) and math.isfinite(x)


class Truth:
    """One session's truth; seconds are found by the log's clock, which may jump."""

    def __init__(self, path):
        known = json.loads(Path(path).read_text())
        self.name, self.family = known["name"], known["family"]
        grid, clock = known["grid"], known["clock"]
        self.sensed = grid["sensed"]
        self.good = [ok == "1" and r <= SLACK for ok, r in zip(grid["ok"], grid["ratio"])]
        offset, k, times = 0, 0, []
        for i in range(len(self.good)):
            while k < len(clock) and clock[k][0] <= i:
                offset, k = clock[k][1], k + 1
            times.append(i + offset)
        self.last_s = times[-1]
        self._order = sorted(range(len(times)), key=times.__getitem__)
        self._times = sorted(times)
        self.pieces = list(self._pieces(known))

    @staticmethod
    def _pieces(known):
        """True intervals, cut where the log was blind."""
        for whole in known["intervals"]:
            at, fresh = whole["from_s"], not whole["after_gap"]
            for a, b, _ in sorted(known["blind"]):
                if at < b and a < whole["to_s"]:
                    if a - at >= MIN_TRUE_S:
                        yield Piece(at, a, fresh, None)
                    at, fresh = b, False
            if whole["to_s"] - at >= MIN_TRUE_S:
                yield Piece(at, whole["to_s"], fresh, whole["ended_by"])

    def seconds(self, a, b):
        """Indices of the seconds in [a, b]; the next one when there is none."""
        i, j = bisect_left(self._times, a), bisect_right(self._times, b)
        return self._order[i:j] or [self._order[min(i, len(self._order) - 1)]]


def read_output(path, last_s):
    """Plateaus and the number of bad lines; None when nothing was left for this session."""
    if not path.exists() or path.stat().st_size == 0:
        return None, 0
    found, bad = {}, 0
    for line in path.read_text(errors="replace").splitlines():
        if not line.strip():
            continue
        try:
            event = json.loads(line)
        except ValueError:
            bad += 1
            continue
        if not isinstance(event, dict) or event.get("event") != "plateau":
            continue
        start, end = event.get("declared_s"), event.get("to_s")
        end = last_s if end is None else end  # open at the end of the log
        if not is_number(start) or not is_number(end):
            bad += 1
            continue
        end = max(start, end)
        first, released = event.get("from_s"), event.get("released_s")
        found[start] = Plateau(  # a later line replaces an earlier one
            declared=start, end=end, first=first if is_number(first) else start,
            released=max(start, released) if is_number(released) else end,
            readings=event.get("readings") or {})
    return sorted(found.values(), key=lambda p: p.declared), bad


def overlap(a, b, c, d):
    return max(0.0, min(b, d) - max(a, c))


def reading_errors(truth, plateaus):
    for p in plateaus:
        extent = truth.seconds(p.first, p.end)
        for channel, reading in p.readings.items():
            if channel not in truth.sensed or not isinstance(reading, dict):
                continue
            if not is_number(reading.get("value")):
                continue
            level = sum(truth.sensed[channel][i] for i in extent) / len(extent)
            u = reading["u"] if is_number(reading.get("u")) else 0.0
            error = abs(reading["value"] - level)
            yield channel, error, error <= u + 1e-9


def score_session(truth, plateaus, bad, tally):
    """Adds one session to a tally."""
    tally.sessions += 1
    tally.no_output += plateaus is None
    tally.bad_lines += bad
    plateaus = plateaus or []
    declared, live = set(), set()
    for p in plateaus:
        span = truth.seconds(p.declared, p.end)
        declared.update(span)
        live.update(truth.seconds(p.declared, p.released))
        tally.correct += sum(truth.good[i] for i in span) >= GOOD_SHARE * len(span)
    tally.seconds += len(truth.good)
    tally.declared_s += len(declared)
    tally.false_s += sum(not truth.good[i] for i in declared)
    tally.live_s += len(live)
    tally.live_false_s += sum(not truth.good[i] for i in live)
    tally.plateaus += len(plateaus)
    tally.true += len(truth.pieces)
    for piece in truth.pieces:
        core = piece.start + SETTLE_S, piece.end
        best = max(plateaus, default=None, key=lambda p: overlap(p.declared, p.end, *core))
        if best and overlap(best.declared, best.end, *core) >= FOUND_SHARE * (core[1] - core[0]):
            tally.found += 1
            if piece.fresh:
                tally.delays.append(best.declared - piece.start)
        if piece.ended_by is None:
            continue
        hit = piece.ended_by["t_s"]
        if all(truth.good[i] for i in truth.seconds(hit, hit + CLEAR_S)):
            continue
        for p in plateaus:
            if p.declared < hit <= p.end + 1.5:
                tally.releases.append(max(0.0, p.end - hit))
            if p.declared < hit <= p.released + 1.5:
                tally.live_releases.append(max(0.0, p.released - hit))
    for channel, error, covered in reading_errors(truth, plateaus):
        tally.errors.setdefault(channel, []).append((error, covered))


def spread(xs, high):
    return {"n": len(xs), "median": quantile(xs, 0.5), f"p{high}": quantile(xs, high / 100)}


def f1(precision, recall, true):
    if not true:
        return None
    return 2 * precision * recall / (precision + recall) if precision and recall else 0.0


def summary(t):
    precision, recall = share(t.correct, t.plateaus), share(t.found, t.true)
    return {
        "sessions": t.sessions, "no_output": t.no_output, "bad_lines": t.bad_lines,
        "false_settled": share(t.false_s, t.declared_s),
        "false_s_per_hour": 3600 * t.false_s / t.seconds,
        "live_false_settled": share(t.live_false_s, t.live_s),
        "declared_share": t.declared_s / t.seconds,
        "plateaus": t.plateaus, "true_intervals": t.true,
        "precision": precision, "recall": recall, "f1": f1(precision, recall, t.true),
        "delay_s": spread(t.delays, 90), "release_s": spread(t.releases, 90),
        "live_release_s": spread(t.live_releases, 90),
        "readings": {c: {**spread([e for e, _ in xs], 95),
                         "coverage": sum(ok for _, ok in xs) / len(xs)}
                     for c, xs in sorted(t.errors.items())}}


def score(truths, outputs):
    """truths: Truth objects; outputs: name -> (plateaus or None, bad lines)."""
    total, families = Tally(), {}
    for truth in truths:
        plateaus, bad = outputs[truth.name]
        for tally in (total, families.setdefault(truth.family, Tally())):
            score_session(truth, plateaus, bad, tally)
    return {"all": summary(total), "families": {f: summary(t) for f, t in families.items()}}


def shown(x, form):
    return "-" if x is None else format(x, form)


def print_table(result):
    head = (f"{'family':20s}{'sess':>5s}{'none':>5s}{'true':>6s}{'decl':>6s}{'false':>7s}"
            f"{'live-f':>7s}{'prec':>6s}{'rec':>6s}{'F1':>6s}{'delay s':>10s}{'release s':>11s}"
            "   (median/p90)")
    print(head)
    for name, r in [*result["families"].items(), ("ALL", result["all"])]:
        def pair(key):
            return shown(r[key]["median"], ".0f") + "/" + shown(r[key]["p90"], ".0f")
        print(f"{name:20s}{r['sessions']:5d}{r['no_output']:5d}{r['true_intervals']:6d}"
              f"{r['plateaus']:6d}{shown(r['false_settled'], '.3f'):>7s}"
              f"{shown(r['live_false_settled'], '.3f'):>7s}{shown(r['precision'], '.2f'):>6s}"
              f"{shown(r['recall'], '.2f'):>6s}{shown(r['f1'], '.2f'):>6s}{pair('delay_s'):>10s}"
              f"{pair('release_s'):>11s}")
    for channel, r in result["all"]["readings"].items():
        print(f"reading {channel:20s} n {r['n']:6d}  error median {r['median']:.4f}"
              f"  p95 {r['p95']:.4f}  coverage {r['coverage']:.3f}")
    if result["all"]["bad_lines"]:
        print("unreadable or incomplete lines:", result["all"]["bad_lines"])


def rounded(x):
    if isinstance(x, dict):
        return {k: rounded(v) for k, v in x.items()}
    return round(x, 4) if isinstance(x, float) else x


def main():
    arguments = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    arguments.add_argument("truths", type=Path)
    arguments.add_argument("outputs", type=Path)
    arguments.add_argument("--json", type=Path, help="also write totals and families to this file")
    arguments.add_argument("--quiet", action="store_true", help="only the JSON line")
    given = arguments.parse_args()
    truths = [Truth(path) for path in sorted(given.truths.glob("*.truth.json"))]
    if not truths:
        arguments.error(f"no truth files in {given.truths}")
    outputs = {t.name: read_output(given.outputs / f"{t.name}.out.jsonl", t.last_s) for t in truths}
    result = rounded(score(truths, outputs))
    if not given.quiet:
        print_table(result)
    print(json.dumps(result["all"], separators=(",", ":")))
    if given.json:
        given.json.write_text(json.dumps(result, indent=1) + "\n")


if __name__ == "__main__":
    main()
