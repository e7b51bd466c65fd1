# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The command, in this process: ``stilling`` and ``python -m stilling``."""

import os
import sys

from . import _core


def main() -> int:
    """Its exit status. Words go as the bytes they came in."""
    return _core.command([os.fsencode(word) for word in sys.argv[1:]])


if __name__ == "__main__":
    sys.exit(main())
