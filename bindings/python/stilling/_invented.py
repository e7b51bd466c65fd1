# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Invented tests, for trying things out. No burner was tested."""

from __future__ import annotations

import json
from typing import Any, Dict, Tuple

from . import _core


def scenarios() -> Dict[str, str]:
    """The scenarios, each with what happens in it."""
    return dict(_core.scenarios())


def simulate(scenario: str, *, seed: int = 1) -> Tuple[bytes, Dict[str, Any]]:
    """An invented test: the bytes of its log, and what truly happened."""
    log, truth = _core.simulate(scenario, seed)
    return log.encode(), json.loads(truth)
