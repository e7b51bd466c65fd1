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

from ._core import version as __version__
from ._events import (Break, Derived, Finding, Phase, Plateau, Reading, Rejection, Result, Summary)
from ._judging import Session, settle, settle_files
from ._figures import Figures, criteria, derive, fuels
from ._series import Segment, Span, segment, steady_spans
from ._invented import scenarios, simulate
from ._plot import plot

__all__ = [
    "Break", "Derived", "Figures", "Finding", "Phase", "Plateau", "Reading", "Rejection", "Result",
    "Segment", "Session", "Span", "Summary", "criteria", "derive", "fuels", "plot", "scenarios",
    "segment", "settle", "settle_files", "simulate", "steady_spans",
]
