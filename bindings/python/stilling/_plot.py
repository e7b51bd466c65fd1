# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A picture of a test."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Dict, List, Optional, Sequence

import numpy as np

from ._events import Result
from ._needs import needed

if TYPE_CHECKING:
    from matplotlib.figure import Figure

# Hatches and greys as well as colours: the picture holds in black and white too.
_SHADES: Dict[str, Dict[str, Any]] = {
    "steady": {"facecolor": "0.90"},
    "disturbed": {"facecolor": "none", "hatch": "////", "edgecolor": "0.85"},
    "cooling": {"facecolor": "none", "hatch": "....", "edgecolor": "0.85"},
    "fresh_air": {"facecolor": "none", "hatch": "\\\\", "edgecolor": "0.9"},
}


def plot(result: Result, columns: Optional[Sequence[str]] = None, *,
         figure: Optional["Figure"] = None) -> "Figure":
    """Channels over time, one under the other, with phases shaded and every settled reading as a
    line over what it is the mean of, with its ± as a band. Needs matplotlib.

    result: of `settle` over columns; one that came from a file shows settled readings and phases
    alone. columns: those to show; all, where none is named.
    """
    plt = needed("matplotlib.pyplot", "plot()")
    names: List[str] = list(columns or (result.course[1] if result.course else
                                        result.plateaus[0].readings if result.plateaus else []))
    if not names:
        raise ValueError("there is nothing to show: no column, and nothing settled")
    fig = figure or plt.figure(figsize=(7.0, 1.5 * len(names) + 0.8), layout="constrained")
    axes = fig.subplots(len(names), 1, sharex=True, squeeze=False)[:, 0]
    origin = _first_instant(result)
    for ax, name in zip(axes, names):
        if result.course is not None and name in result.course[1]:
            times, known, values = result.course
            ax.plot((times / 1e9 - origin) / 60, values[:, known.index(name)], color="0.35",
                    linewidth=0.8)
        for p in result.plateaus:
            r = p.readings.get(name)
            if r is None:
                continue
            span = [(t - origin) / 60 for t in (p.from_s, p.from_s if p.to_s is None else p.to_s)]
            ax.plot(span, [r.value] * 2, color="C0", linewidth=2)
            ax.fill_between(span, r.value - r.u, r.value + r.u, color="C0", alpha=0.25, linewidth=0)
        _shade(ax, result, origin)
        channel, _, unit = name.rpartition("_")
        ax.set_ylabel(f"{channel.replace('_', ' ')}\n{unit}")
        ax.margins(x=0)
    axes[-1].set_xlabel("minutes")
    return fig


def _first_instant(result: Result) -> float:
    if result.course is not None and len(result.course[0]):
        return float(result.course[0][0]) / 1e9
    times = [p.time_s for p in result.phases] + [p.from_s for p in result.plateaus]
    return min(times, default=0.0)


def _shade(ax: Any, result: Result, origin: float) -> None:
    ends = [p.time_s for p in result.phases[1:]]
    last = result.phases[-1].time_s if result.phases else origin
    if result.course is not None and len(result.course[0]):
        last = float(result.course[0][-1]) / 1e9
    for p, end in zip(result.phases, ends + [last]):
        if p.phase in _SHADES:
            ax.axvspan((p.time_s - origin) / 60, (end - origin) / 60, zorder=0, linewidth=0,
                       **_SHADES[p.phase])
