# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A terminal to run the command in: tmux, on a socket of its own."""

import itertools
import os
import shutil
import subprocess
import time

from command import STILLING

PATIENCE_S = 90  # for a machine that is busy; nothing here lasts that long
TMUX = shutil.which("tmux")


class Terminal:
    """A shell in a window of so many columns and rows."""

    numbers = itertools.count()

    def __init__(self, folder, columns=80, rows=24, **environment):
        self.folder = folder
        self.socket = str(folder / f"tmux{next(self.numbers)}")
        kept = {k: v for k, v in os.environ.items() if k in ("PATH", "HOME")}
        self.environment = {**kept, "LC_ALL": "C.UTF-8", "PS1": "$ ", "STILLING": STILLING,
                            "TMUX_TMPDIR": str(folder), **environment}
        self.tmux("-f", "/dev/null", "new-session", "-d", "-x", columns, "-y", rows,
                  "-c", folder, "sh")
        self.columns, self.rows = columns, rows

    def tmux(self, *words):
        return subprocess.run([TMUX, "-S", self.socket, *map(str, words)], check=True,
                              capture_output=True, timeout=PATIENCE_S, env=self.environment).stdout

    def keys(self, *names):
        self.tmux("send-keys", *names)

    def type(self, text):
        self.tmux("send-keys", "-l", text)

    def enter(self, text):
        self.type(text)
        self.keys("Enter")

    def resize(self, columns, rows):
        self.tmux("resize-window", "-x", columns, "-y", rows)

    def shown(self, *how):
        return self.tmux("capture-pane", "-p", *how).decode()

    def words(self):
        """What is shown as one line, so that it does not matter where lines were broken; without
        the letters of blocks that stand beside them."""
        return " ".join(w for w in self.shown().split() if not set(w) <= set("█▀▄"))

    def wait_for(self, text, present=True):
        limit = time.monotonic() + PATIENCE_S
        while (text in self.words()) != present:
            if time.monotonic() > limit:
                raise AssertionError(f"'{text}' did not {'come' if present else 'go'}; there is\n"
                                     + self.shown())
            time.sleep(0.05)

    def wait_for_file(self, name, holds=lambda content: True):
        path = self.folder / name
        limit = time.monotonic() + PATIENCE_S
        while not (path.exists() and holds(path.read_bytes())):
            if time.monotonic() > limit:
                raise AssertionError(f"{name} did not come; there is\n" + self.shown())
            time.sleep(0.05)
        return path.read_bytes()

    def close(self):
        subprocess.run([TMUX, "-S", self.socket, "kill-server"], capture_output=True,
                       timeout=PATIENCE_S, env=self.environment, check=False)
