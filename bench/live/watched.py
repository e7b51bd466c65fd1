#!/usr/bin/env python3
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""`stilling watch` for a while at ten rows a second, its page drawn and its web page open: memory
and the share of one core it takes."""

import argparse
import os
import pty
import re
import select
import socket
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "tests" / "cli"))
from command import ENVIRONMENT, HEADER, STILLING  # noqa: E402


def resident(pid):
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    return int(re.search(r"VmRSS:\s+(\d+) kB", status)[1]) / 1024


def core_seconds(pid):
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main():
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--seconds", type=int, default=600)
    asked.add_argument("--per-second", type=int, default=10)
    asked = asked.parse_args()
    terminal, theirs = pty.openpty()
    process = subprocess.Popen([STILLING, "watch", "--serve", "0"], stdin=subprocess.PIPE,
                               stdout=theirs, stderr=subprocess.PIPE, start_new_session=True,
                               env={**ENVIRONMENT, "TERM": "xterm", "LC_ALL": "C.UTF-8"})
    os.close(theirs)
    process.stdin.write((HEADER + "\n").encode())
    process.stdin.flush()
    said = process.stderr.readline().decode()
    browser = socket.create_connection(
        ("127.0.0.1", int(re.search(r"http://127.0.0.1:(\d+)/", said)[1])))
    browser.sendall(b"GET /events HTTP/1.1\r\nHost: localhost\r\n\r\n")
    drawn = heard = sent = 0
    print("  minute   MiB   % of a core   kB drawn   kB to the browser", flush=True)
    begun = time.monotonic()
    used_before, told = core_seconds(process.pid), 0
    memory = []
    while sent < asked.seconds * asked.per_second:
        now = time.monotonic() - begun
        due = sent / asked.per_second
        if now >= due:
            i = sent
            # A level that moves every two minutes, so that it settles and is given up again.
            stack = 450 + 40 * (i // (120 * asked.per_second) % 2) + (i * 7 // 3) % 2
            process.stdin.write(f"{i / asked.per_second},{stack},68,5.{i % 2},20\n".encode())
            process.stdin.flush()
            sent += 1
            continue
        for ready in select.select([terminal, browser], [], [], due - now)[0]:
            if ready is terminal:
                drawn += len(os.read(terminal, 65_536))
            else:
                heard += len(browser.recv(65_536))
        if now >= 60 * (told + 1):
            told += 1
            used = core_seconds(process.pid)
            memory.append(resident(process.pid))
            print(f"{told:8}{memory[-1]:6.1f}{(used - used_before) / 60 * 100:14.1f}"
                  f"{drawn / 1000:11.0f}{heard / 1000:20.0f}", flush=True)
            used_before = used
    used = core_seconds(process.pid)
    print(f"{sent} rows in {time.monotonic() - begun:.0f} s; {used:.1f} s of a core, "
          f"{used / (time.monotonic() - begun) * 100:.1f} %")
    process.stdin.close()
    browser.close()
    os.close(terminal)
    process.wait(60)
    process.stderr.close()
    if len(memory) > 3:
        print(f"memory from minute 3 on: {memory[2]:.1f} to {max(memory[2:]):.1f} MiB")
    return 0


if __name__ == "__main__":
    sys.exit(main())
