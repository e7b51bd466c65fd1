# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Rows on a noisy serial line, and what may and must become of them.

One byte in a hundred turns into a control character or into one with its top bit set, line ends
included. A line that was hit must be said to be unusable, every other one must be read.
"""

import random
import re

from command import HEADER


def sent_rows(count, chance):
    return [f"{i * 0.5:.1f},{chance.randint(3000, 5999) / 10},{chance.randint(600, 800) / 10},"
            f"{chance.randint(300, 900) / 100:.2f},{chance.randint(10, 99)}\n".encode()
            for i in range(count)]


def hit(content, share, chance):
    """What arrives, and where it was hit."""
    out, where = bytearray(content), set()
    for at in range(len(out)):
        if chance.random() >= share:
            continue
        byte = chance.choice([*range(0x20), 0x7f, *range(0x80, 0x100)])
        if byte != out[at]:
            out[at] = byte
            where.add(at)
    return bytes(out), where


def lines_of(received):
    """(number, from, to, end) of each line that is not empty, with LF, CR LF and CR as ends."""
    at, number = 0, 0
    for end in re.finditer(rb"\r\n|\r|\n", received):
        number += 1
        if end.start() > at:
            yield number, at, end.start(), end.end()
        at = end.end()


def fate(received, where):
    """For each line its number, what it must come to (read, rejected, either), and itself.

    A line end that arose within a line leaves two pieces. A piece with too few fields shows it; one
    with all of them looks like a row (20 cut to 2 in the last field), and nobody can tell.
    """
    for number, begin, stop, end in lines_of(received):
        line = received[begin:stop]
        if any(at in where for at in range(begin, stop)):
            must = "rejected"
        elif begin - 1 in where or any(at in where for at in range(stop, end)):
            must = "either" if line.count(b",") == 4 else "rejected"
        else:
            must = "read"
        yield number, must, line


def pieces(content, chance, most=64):
    at = 0
    while at < len(content):
        size = chance.randint(1, most)
        yield content[at:at + size]
        at += size


def noisy_log(rows, share, seed):
    chance = random.Random(seed)
    head = HEADER.encode() + b"\n"
    body, where = hit(b"".join(sent_rows(rows, chance)), share, chance)
    # Whatever was under way ends here, and then one that shows that all has arrived.
    last = b"\n999999.0,450.0,68.0,5.00,20\n"
    return head + body + last, {at + len(head) for at in where}, chance
