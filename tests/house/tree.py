# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The checkout as the house checks see it: its files, and C++ text without comments and strings."""

import os
import re
import subprocess
import sys
from pathlib import Path

CPP = {".hpp", ".cpp", ".h"}

_PIECES = re.compile(
    r'//[^\n]*|/\*.*?\*/'
    r'|R"(?P<mark>[^()\\\s]{0,16})\(.*?\)(?P=mark)"'
    r'|"(?:\\.|[^"\\\n])*"'
    r"|(?<![0-9A-Fa-f])'(?:\\.|[^'\\\n])+'",
    re.DOTALL)


def files(root):
    """Tracked files and new ones that git would not ignore; without git, all but build trees."""
    try:
        said = subprocess.run(
            ["git", "-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
            capture_output=True, check=True).stdout.decode()
        names = sorted(set(filter(None, said.split("\0"))))
    except (OSError, subprocess.CalledProcessError):
        names = []
        for folder, folders, here in os.walk(root):
            folders[:] = [f for f in folders if f not in {".git", "build", "__pycache__"}]
            names += [os.path.relpath(os.path.join(folder, n), root) for n in here]
        names.sort()
    return [Path(n) for n in names if (Path(root) / n).is_file()]


def cpp_files(root, *tops):
    return [f for f in files(root) if f.suffix in CPP and f.parts[0] in tops]


def text_of(root, file):
    return (Path(root) / file).read_text(encoding="utf-8", errors="replace")


def _blank(piece):
    return re.sub(r"[^\n]", " ", piece)


def without_comments(text):
    return _PIECES.sub(lambda m: _blank(m[0]) if m[0][0] == "/" else m[0], text)


def code_of(text):
    """Comments and literals blanked out; lines keep their numbers, includes their names."""
    def replace(m):
        line_start = text.rfind("\n", 0, m.start()) + 1
        if re.match(r"\s*#\s*include\b", text[line_start:m.start()]) and m[0][0] == '"':
            return m[0]
        return _blank(m[0])
    return _PIECES.sub(replace, text)


def line_of(text, at):
    return text.count("\n", 0, at) + 1


def main(check):
    """Runs check(root) as a program: prints what it finds; status 1 where it finds anything."""
    root = sys.argv[1] if len(sys.argv) > 1 else str(Path(__file__).parents[2])
    found = list(check(root))
    for finding in found:
        print(finding)
    print(f"{check.__module__ if check.__module__ != '__main__' else Path(sys.argv[0]).stem}: "
          f"{len(found)} finding(s)")
    sys.exit(1 if found else 0)
