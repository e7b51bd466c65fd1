# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The stilling command while it runs, and a serial line to give it: a pseudo-terminal."""

import os
import select
import threading
import time
import tty

from command import start

PATIENCE_S = 60  # for a machine that is busy; nothing here lasts that long


def wait_until(holds, what, instead=lambda: ""):
    limit = time.monotonic() + PATIENCE_S
    while not holds():
        if time.monotonic() > limit:
            raise AssertionError(f"{what} did not come to pass {instead()}")
        time.sleep(0.005)


class SerialLine:
    """The instrument's end; `name` is what the command is given."""

    def __init__(self):
        self.end, self.other_end = os.openpty()
        tty.setraw(self.other_end)
        self.name = os.ttyname(self.other_end)

    def send(self, content):
        """Returns once all of it is on the line."""
        content = content.encode() if isinstance(content, str) else content
        while content:
            select.select([], [self.end], [], PATIENCE_S)
            content = content[os.write(self.end, content):]

    def pull(self):
        """As if the cable was; once more does nothing."""
        for end in (self.other_end, self.end):
            if end is not None:
                os.close(end)
        self.end = self.other_end = None


def wait_for_content(path, content):
    """At the end of a file that grows."""
    wait_until(lambda: path.exists() and content in path.read_bytes()[-4096:],
               f"{content} in {path.name}", lambda: f"but {path.read_bytes()[-300:]}")


class Running:
    """A process whose words are read on the side."""

    def __init__(self, *words, **more):
        self.process = start(*words, **more)
        self.out, self.complaints = bytearray(), bytearray()
        self.sides = [threading.Thread(target=self._read, args=pair, daemon=True)
                      for pair in ((self.process.stdout, self.out),
                                   (self.process.stderr, self.complaints))]
        for side in self.sides:
            side.start()

    @staticmethod
    def _read(pipe, to):
        while piece := os.read(pipe.fileno(), 65_536):
            to += piece

    def said(self):
        return f"but {bytes(self.out[-300:])} and {bytes(self.complaints)}"

    def wait_for(self, said):
        wait_until(lambda: said in self.out, f"{said} on standard output", self.said)

    def wait_for_lines(self, count):
        wait_until(lambda: self.out.count(b"\n") >= count, f"line {count}", self.said)

    def wait_for_complaint(self, said):
        wait_until(lambda: said in self.complaints, f"{said} on standard error", self.said)

    def finish(self, wish=None):
        """The status; what was said is whole then."""
        if wish is not None:
            self.process.send_signal(wish)
        self.process.stdin.close()
        status = self.process.wait(PATIENCE_S)
        for side in self.sides:
            side.join(PATIENCE_S)
        self.process.stdout.close()
        self.process.stderr.close()
        return status

    def stop(self):
        """For the end of a test that failed midway."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
