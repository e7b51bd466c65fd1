# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Settled readings, with honest uncertainty, from the readings of a burner test.

>>> import stilling
>>> log, truth = stilling.simulate("whole_visit", seed=3)
>>> test = stilling.settle(log)
>>> test.plateaus[-1].readings["stack_temp_degF"]      # doctest: +ELLIPSIS
Reading(404.9... ± 0.6...)

The names of fields are those of the command's JSON lines; times are seconds on the log's own clock,
values are in the units of the columns, and ``u`` is expanded (k = 2). What is unknown is ``None``,
never 0. CO poisons and hot flue gas burns: the maker's instructions, local codes and licensed
practice come first.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any, List

from ._core import version as __version__

if TYPE_CHECKING:
    from ._events import (Break, Derived, Finding, Phase, Plateau, Reading, Rejection, Result,
                          Summary)
    from ._judging import Session, settle, settle_files
    from ._figures import Figures, criteria, derive, fuels
    from ._series import Segment, Span, segment, steady_spans
    from ._invented import scenarios, simulate
    from ._plot import plot

# Imported when one of their names is first asked for, so that the command, which starts by way of
# this package too, waits for no numpy.
_PARTS = ("_events", "_judging", "_figures", "_series", "_invented", "_plot")

__all__ = [
    "Break", "Derived", "Figures", "Finding", "Phase", "Plateau", "Reading", "Rejection", "Result",
    "Segment", "Session", "Span", "Summary", "criteria", "derive", "fuels", "plot", "scenarios",
    "segment", "settle", "settle_files", "simulate", "steady_spans",
]


def __getattr__(name: str) -> Any:
    if name in __all__:
        for part in _PARTS:
            found = getattr(import_module(f"{__name__}.{part}"), name, None)
            if found is not None:
                globals()[name] = found
                return found
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> List[str]:
    return sorted({*globals(), *__all__})
