# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""A headless Chromium, spoken to over a pipe: DevTools messages as JSON, each ended by NUL.

The standard library is all it needs. It opens files of this machine, emulates widths, schemes and
media, runs a function in the page, prints to PDF and takes pictures, and remembers every request
and every complaint of the page.
"""

import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
import time

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")


def find():
    """The browser's command; None where there is none."""
    return os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


class Failure(Exception):
    pass


class Chromium:
    """One browser with one page. A context: leaving it ends the browser."""

    def __init__(self, command, patience=120):
        self._patience = patience
        self._folder = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
        read_here, write_there = os.pipe()
        read_there, write_here = os.pipe()

        def ends():  # what the browser reads is its 3, what it writes its 4
            os.dup2(os.dup(read_there), 103)
            os.dup2(os.dup(write_there), 104)
            os.dup2(103, 3)
            os.dup2(104, 4)

        self._process = subprocess.Popen(
            [command, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
             "--hide-scrollbars", "--no-first-run", "--disable-extensions",
             "--disable-background-networking", "--disable-component-update",
             f"--user-data-dir={self._folder.name}", "--remote-debugging-pipe", "about:blank"],
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            preexec_fn=ends, close_fds=False, start_new_session=True)
        os.close(read_there)
        os.close(write_there)
        self._from, self._to = read_here, write_here
        self._rest = b""
        self._count = 0
        self._session = None
        self.requests, self.complaints, self._events = [], [], []
        target = next(t for t in self.call("Target.getTargets")["targetInfos"]
                      if t["type"] == "page")
        self._session = self.call("Target.attachToTarget", targetId=target["targetId"],
                                  flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            self.call(f"{domain}.enable")

    def __enter__(self):
        return self

    def __exit__(self, *what):
        try:
            self._session = None
            self.call("Browser.close")
        except (Failure, OSError):
            self._process.kill()
        self._process.wait()
        os.close(self._from)
        os.close(self._to)
        self._folder.cleanup()

    def call(self, method, **how):
        """What the browser answers; events on the way are kept."""
        self._count += 1
        mine = self._count
        message = {"id": mine, "method": method, "params": how}
        if self._session:
            message["sessionId"] = self._session
        text = json.dumps(message).encode() + b"\0"
        while text:
            text = text[os.write(self._to, text):]
        end = time.monotonic() + self._patience
        while True:
            got = self._next(end)
            if got.get("id") == mine:
                if "error" in got:
                    raise Failure(f"{method}: {got['error']['message']}")
                return got["result"]
            self._note(got)

    def _next(self, end):
        while b"\0" not in self._rest:
            left = end - time.monotonic()
            if left <= 0 or not select.select([self._from], [], [], left)[0]:
                raise Failure("the browser does not answer")
            piece = os.read(self._from, 1 << 16)
            if not piece:
                raise Failure("the browser ended")
            self._rest += piece
        one, self._rest = self._rest.split(b"\0", 1)
        return json.loads(one)

    def _note(self, event):
        how = event.get("params", {})
        match event.get("method"):
            case "Network.requestWillBeSent":
                self.requests.append(how["request"]["url"])
            case "Log.entryAdded":
                self.complaints.append(how["entry"]["text"])
            case "Runtime.exceptionThrown":
                self.complaints.append(how["exceptionDetails"]["text"])
            case "Page.loadEventFired":
                self._events.append("loaded")

    def emulate(self, width, height=900, dark=False, media=""):
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height,
                  deviceScaleFactor=1, mobile=False)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.call("Emulation.setEmulatedMedia", media=media, features=[scheme])

    def open(self, path):
        self.requests.clear()
        self.complaints.clear()
        self._events.clear()
        self.call("Page.navigate", url=path.resolve().as_uri())
        end = time.monotonic() + self._patience
        while "loaded" not in self._events:
            self._note(self._next(end))

    def ask(self, function, *arguments):
        """What a JavaScript function returns in the page, as JSON."""
        said = ", ".join(map(json.dumps, arguments))
        got = self.call("Runtime.evaluate", expression=f"({function})({said})",
                        returnByValue=True)
        if "exceptionDetails" in got:
            raise Failure(got["exceptionDetails"].get("exception", {}).get("description", "?"))
        return got["result"].get("value")

    def print(self, **how):
        """The page as a PDF."""
        got = self.call("Page.printToPDF", printBackground=True, preferCSSPageSize=False, **how)
        return base64.b64decode(got["data"])

    def picture(self, whole=True):
        """The page as a PNG, all of it."""
        got = self.call("Page.captureScreenshot", format="png", captureBeyondViewport=whole)
        return base64.b64decode(got["data"])
