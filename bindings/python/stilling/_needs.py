# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What only some uses need, and what to do where it is missing."""

from importlib import import_module
from typing import Any


def needed(module: str, use: str) -> Any:
    """The module, or an ImportError that says what to install."""
    try:
        return import_module(module)
    except ImportError as e:
        package = module.partition(".")[0]
        if (e.name or "").partition(".")[0] != package:
            raise  # it is there, and something is wrong with it
        raise ImportError(f"{use} needs {package}, which is not installed: pip install {package}, "
                          "or stilling with all it can use: pip install 'stilling[analysis]'",
                          name=package) from None
