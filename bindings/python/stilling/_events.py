# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What a judged log says, as objects. Each is one JSON object of the command's output, no more and
no less: ``event`` gives it back."""

from __future__ import annotations

import json
from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, Any, Dict, Iterable, List, Optional

from ._needs import needed

if TYPE_CHECKING:
    import pandas  # type: ignore[import-untyped,unused-ignore]
    import pyarrow  # type: ignore[import-untyped,unused-ignore]


def _decimals(u: Optional[float]) -> int:
    """As many as the uncertainty has a word in: two digits of it."""
    if not u or u <= 0:
        return 4
    digits, size = 0, u
    while size < 10 and digits < 9:
        size *= 10
        digits += 1
    return max(digits - 1, 0)


def _with_u(value: Optional[float], u: Optional[float]) -> str:
    if value is None:
        return "unknown"
    if u is None:
        return f"{value:g}"
    n = _decimals(u)
    return f"{value:.{n}f} ± {u:.{n}f}"


@dataclass(frozen=True, repr=False)
class Reading:
    """One channel of a plateau: the mean over [from_s, to_s] in the unit of its column."""

    value: float
    u: float
    rate_per_min: Optional[float]
    rate_bound_per_min: Optional[float]
    remaining: Optional[float]
    peak: Optional[float]
    lag_s: Optional[float]
    coverage: float
    longest_gap_s: float
    n: int
    n_effective: float
    set_aside: int

    def __repr__(self) -> str:
        return f"Reading({_with_u(self.value, self.u)})"


@dataclass(frozen=True, repr=False)
class Derived:
    """A combustion figure, or the reason why there is none."""

    value: Optional[float]
    u: Optional[float] = None
    formula: Optional[str] = None
    reason: Optional[str] = None
    event: Dict[str, Any] = field(default_factory=dict, compare=False)

    def __repr__(self) -> str:
        if self.value is None:
            return f"Derived(None: {self.reason})"
        return f"Derived({_with_u(self.value, self.u)})"


@dataclass(frozen=True, repr=False)
class Plateau:
    """A settled reading. ``to_s`` is None while it is open; ``declared_s`` depends on earlier rows
    only."""

    declared_s: float
    from_s: float
    to_s: Optional[float]
    released_s: Optional[float]
    end_reason: Optional[str]
    readings: Dict[str, Reading]
    derived: Dict[str, Derived]
    flags: List[str]
    oscillation: Optional[Dict[str, Any]]
    event: Dict[str, Any] = field(compare=False)

    def __repr__(self) -> str:
        what = ", ".join(f"{k} {_with_u(r.value, r.u)}" for k, r in self.readings.items())
        to = "open" if self.to_s is None else f"{self.to_s:g}"
        return f"Plateau({self.from_s:g}–{to} s: {what})"


@dataclass(frozen=True)
class Phase:
    """From ``time_s`` on, until the next one."""

    time_s: float
    phase: str
    reason: str
    event: Dict[str, Any] = field(compare=False, repr=False)


@dataclass(frozen=True)
class Finding:
    """A rule of practice or a limit spoke."""

    time_s: float
    finding: str
    severity: str
    quantity: Optional[str]
    value: Optional[float]
    u: Optional[float]
    limit: Optional[float]
    basis: str
    text: str
    event: Dict[str, Any] = field(compare=False, repr=False)


@dataclass(frozen=True)
class Break:
    """The stream's clock or layout broke."""

    time_s: float
    line: int
    kind: str
    event: Dict[str, Any] = field(compare=False, repr=False)


@dataclass(frozen=True)
class Rejection:
    """A line that could not be used."""

    line: int
    fault: str
    event: Dict[str, Any] = field(compare=False, repr=False)


@dataclass(frozen=True)
class Summary:
    """What the whole log came to."""

    outcome: str
    plateaus: int
    rows: int
    frames: int
    rejected: Dict[str, int]
    burns: List[Dict[str, Any]]
    assumptions: List[str]
    event: Dict[str, Any] = field(compare=False, repr=False)


def _of(kind: Any, event: Dict[str, Any]) -> Any:
    names = [f.name for f in fields(kind) if f.name != "event"]
    return kind(**{n: event.get(n) for n in names}, event=event)


def _plateau(event: Dict[str, Any]) -> Plateau:
    readings = {k: Reading(**{f.name: r.get(f.name) for f in fields(Reading)})
                for k, r in event["readings"].items()}
    derived = {k: Derived(d.get("value"), d.get("u"), d.get("formula"), d.get("reason"), d)
               for k, d in event.get("derived", {}).items()}
    return Plateau(event["declared_s"], event["from_s"], event["to_s"], event["released_s"],
                   event["end_reason"], readings, derived, list(event["flags"]),
                   event.get("oscillation"), event)


_KINDS = {"phase": Phase, "finding": Finding, "break": Break, "rejection": Rejection,
          "end": Summary}


def events_of(lines: str) -> Iterable[Any]:
    """The events of lines of JSON, as objects; `begin` is passed over."""
    for line in lines.splitlines():
        event = json.loads(line)
        kind = event["event"]
        if kind == "plateau":
            yield _plateau(event)
        elif kind in _KINDS:
            yield _of(_KINDS[kind], event)


@dataclass(repr=False)
class Result:
    """What a log came to. ``plateaus`` holds the last word on each; ``jsonl`` is the command's
    output, byte for byte."""

    jsonl: str = ""
    plateaus: List[Plateau] = field(default_factory=list)
    phases: List[Phase] = field(default_factory=list)
    findings: List[Finding] = field(default_factory=list)
    breaks: List[Break] = field(default_factory=list)
    rejections: List[Rejection] = field(default_factory=list)
    summary: Optional[Summary] = None
    course: Any = field(default=None, compare=False)  # what went in, where it was arrays

    @classmethod
    def of(cls, jsonl: str) -> "Result":
        """From the command's JSON lines."""
        result = cls()
        result.add(jsonl)
        return result

    def add(self, jsonl: str) -> None:
        """What was said next."""
        self.jsonl += jsonl
        for e in events_of(jsonl):
            if isinstance(e, Plateau):
                if self.plateaus and self.plateaus[-1].declared_s == e.declared_s:
                    self.plateaus.pop()
                self.plateaus.append(e)
            elif isinstance(e, Summary):
                self.summary = e
            else:
                lists: Dict[Any, List[Any]] = {
                    Phase: self.phases, Finding: self.findings, Break: self.breaks,
                    Rejection: self.rejections}
                lists[type(e)].append(e)

    @property
    def outcome(self) -> Optional[str]:
        """`settled`, `never_settled`, `cycling`, `idle`, `no_data`; None before the end."""
        return self.summary.outcome if self.summary else None

    def __repr__(self) -> str:
        lines = "".join(f"\n  {p!r}" for p in self.plateaus)
        return f"Result({self.outcome}, {len(self.findings)} findings{lines})"

    def records(self) -> List[Dict[str, Any]]:
        """A flat row per plateau: `o2_pct`, `o2_pct_u`, `efficiency_gross_pct` …"""
        rows = []
        for p in self.plateaus:
            row: Dict[str, Any] = {"declared_s": p.declared_s, "from_s": p.from_s, "to_s": p.to_s,
                                   "released_s": p.released_s, "end_reason": p.end_reason,
                                   "flags": " ".join(p.flags)}
            for k, r in p.readings.items():
                row[k], row[k + "_u"] = r.value, r.u
            for k, d in p.derived.items():
                row[k], row[k + "_u"] = d.value, d.u
            rows.append(row)
        return rows

    def to_arrow(self) -> "pyarrow.Table":
        """A row per plateau, as `records`. Needs pyarrow."""
        pyarrow = needed("pyarrow", "to_arrow()")
        return pyarrow.Table.from_pylist(self.records())

    def to_pandas(self) -> "pandas.DataFrame":
        """A row per plateau, as `records`. Needs pandas."""
        pandas = needed("pandas", "to_pandas()")
        return pandas.DataFrame(self.records())
