# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Combustion figures from readings, and what they are made with."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any, Dict, List

from . import _core
from ._events import Derived
from ._judging import _words


@dataclass(frozen=True)
class Figures:
    """What was derived, what was found, and what speaks against what was given (empty: nothing)."""

    derived: Dict[str, Derived]
    findings: List[Dict[str, Any]]
    objection: str
    event: Dict[str, Any] = field(compare=False, repr=False)

    def __getitem__(self, key: str) -> Derived:
        return self.derived[key]


def derive(**given: Any) -> Figures:
    """Combustion figures of readings, each with its expanded uncertainty and formula.

    Keywords are the options of ``stilling derive``, with underscores; a number with its unit and,
    after ``+-``, its expanded uncertainty is text:

    >>> y = derive(fuel="no2_oil", o2=5.0, stack="480degF", air="70degF", co=20)
    >>> y["excess_air_pct"]                                              # doctest: +ELLIPSIS
    Derived(31.4...)

    Raises ValueError where a keyword or value is not understood.
    """
    text, objection = _core.derive(["--json", *_words(given)])
    event = json.loads(text)
    derived = {k: Derived(d.get("value"), d.get("u"), d.get("formula"), d.get("reason"), d)
               for k, d in event["derived"].items()}
    return Figures(derived, event["findings"], objection, event)


def fuels() -> List[Dict[str, Any]]:
    """The fuels that are known, each with the source of its composition."""
    return list(_core.fuels())


def criteria() -> List[Dict[str, Any]]:
    """The published criteria, each with its source and what it asks for beside readings."""
    return list(_core.criteria())
