# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""One plain series of any kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, List, Optional

import numpy as np

from . import _core


@dataclass(frozen=True)
class Span:
    """Where a series was steady. Times in its own seconds, values in its own unit, rates per
    second; ``u`` is expanded (k = 2)."""

    declared_s: float
    from_s: float
    to_s: float
    released_s: Optional[float]
    end_reason: str
    value: float
    u: float
    rate: float
    rate_bound: Optional[float]
    n: int
    creeping: bool


@dataclass(frozen=True)
class Segment:
    """A part of a finished series: `plateau`, `ramp` or `undecided`."""

    from_s: float
    to_s: float
    kind: str
    rate: float
    rate_bound: float
    settled_from_s: float
    value: float
    u: float
    remaining: float


def _series(name: str, x: Any) -> np.ndarray:
    a = np.asarray(x)
    if a.dtype.kind not in "fiub":
        raise ValueError(f"{name}: {a.dtype} is no number")
    if a.ndim != 1:
        raise ValueError(f"{name}: a series has one dimension, this has {a.ndim}")
    return np.ascontiguousarray(a, dtype=np.float64)


def steady_spans(t: Any, x: Any, *, rate_limit: float, window_s: float = 60.0,
                 resolution: float = 0.0, strict: bool = False) -> List[Span]:
    """Where ``x`` moves no faster than ``rate_limit`` (its unit per second), as live rows would
    have it: each span depends on earlier values only.

    t: (n,) seconds, rising. x: (n,), NaN where missing. window_s: the shortest window a rate is
    taken over; it needs six values at least, and claims come after one and a fraction of it.
    resolution: the step of the display, 0 where there is none. strict: 95 % sure to be under the
    limit itself.
    """
    found = _core.steady_spans(_series("t", t), _series("x", x), float(rate_limit),
                               float(window_s), float(resolution), bool(strict))
    return [Span(**s) for s in found]


def segment(t: Any, x: Any, *, rate_limit: float, shortest_s: float = 60.0,
            resolution: float = 0.0) -> List[Segment]:
    """A finished series cut into plateaus and ramps, exactly, with no penalty to choose. Plateaus
    side by side differ in level, by however little can be shown.

    t: (n,) seconds, rising. x: (n,). rate_limit: of a plateau, unit per second. shortest_s: of any
    part.
    """
    found = _core.segments(_series("t", t), _series("x", x), float(rate_limit), float(shortest_s),
                           float(resolution))
    return [Segment(**s) for s in found]
