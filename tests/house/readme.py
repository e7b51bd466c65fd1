# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What README shows is what happens.

A ```cpp or ```python fence is a file of tests/examples, but for its SPDX lines; those files are
run as tests. A ```toml fence is a file that its first line names, `# burner.toml`. A ```sh fence
is run, all of them in one folder that starts empty, with stilling on PATH. Its lines that begin
with `$ ` are commands (`\\` continues one), the others what the command before them prints, both
streams together. `...` stands for any text in a line; alone, for any lines. A command without
lines after it may print what it likes. A status other than 0 is announced by a last line
`(exit status 1)`. `./dev WORD` is not run here: it must be a word ./dev knows, with nothing shown
for it.
"""

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import tree

FENCE = re.compile(r"^```(\w*)[^\n]*\n(.*?)^```[ \t]*$", re.MULTILINE | re.DOTALL)
SECONDS = 120


def fences(text):
    """(language, line number of the first line inside, inside)"""
    for m in FENCE.finditer(text):
        yield m[1], tree.line_of(text, m.start(2)), m[2]


def steps(inside, line):
    """(line number, command, lines it shows) for each command of a fence."""
    found = []
    for number, text in enumerate(inside.splitlines(), line):
        if found and not found[-1][2] and found[-1][1].endswith("\\"):
            found[-1][1] = found[-1][1][:-1] + text.removeprefix("> ")
        elif text.startswith("$ "):
            found.append([number, text[2:], []])
        elif found:
            found[-1][2].append(text)
        elif text.strip():
            yield number, None, [text]
    for number, command, shown in found:
        while shown and not shown[-1].strip():
            shown.pop()
        yield number, command, shown


def pattern_of(shown):
    pattern = ""
    for line in shown:
        if line.strip() == "...":
            pattern += r"(?:[^\n]*\n)*?"
        else:
            pattern += "[^\n]*".join(re.escape(p) for p in line.rstrip().split("...")) + "[ \t]*\n"
    return re.compile(pattern + r"\Z")


def run(command, folder):
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command], cwd=folder, text=True,
                          stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, timeout=SECONDS, env={**os.environ,
                          "LC_ALL": "C.UTF-8", "NO_COLOR": "1"})
    out = done.stdout
    return done.returncode, out + ("\n" if out and not out.endswith("\n") else "")


def check_step(root, where, command, shown, folder):
    if command is None:
        yield f"{where}: '{shown[0]}' comes before any command; commands begin with '$ '"
        return
    if m := re.match(r"\./dev\s+(\w+)", command):
        if m[1] not in re.findall(r"^ {2}(\w+)", run("./dev help", root)[1], re.MULTILINE):
            yield f"{where}: ./dev does not know '{m[1]}'"
        if shown:
            yield f"{where}: the output of ./dev is not checked here, so show none"
        return
    status = 0
    if shown and (m := re.fullmatch(r"\(exit status (\d+)\)", shown[-1].strip())):
        status, shown = int(m[1]), shown[:-1]
    try:
        got, out = run(command, folder)
    except subprocess.TimeoutExpired:
        yield f"{where}: '{command}' took more than {SECONDS} s"
        return
    if got != status:
        yield f"{where}: '{command}' ended with status {got}, not {status}\n{out}"
    elif shown and not pattern_of(shown).match(out):
        yield f"{where}: '{command}' printed\n{out}"


def shown_source(text):
    lines = [line for line in text.splitlines() if not line.startswith(("// SPDX-", "# SPDX-"))]
    return "\n".join(lines).strip()


def check(root):
    if not (Path(root) / "README.md").exists():
        return
    examples = {shown_source(tree.text_of(root, f)) for f in tree.files(root)
                if f.parts[:2] == ("tests", "examples") and f.suffix in (".cpp", ".py")}
    with tempfile.TemporaryDirectory() as folder:
        for language, line, inside in fences(tree.text_of(root, "README.md")):
            if language in ("cpp", "python") and shown_source(inside) not in examples:
                yield f"README.md:{line}: this is no file of tests/examples"
            if language == "toml":
                name = re.match(r"# (\w+\.toml)\n", inside)
                if name:
                    Path(folder, name[1]).write_text(inside, encoding="utf-8")
                else:
                    yield f"README.md:{line}: begin with the name of the file: # name.toml"
            if language in ("bash", "console", "shell"):
                yield f"README.md:{line}: call the fence 'sh', so that it is run"
            if language == "sh":
                for number, command, shown in steps(inside, line):
                    yield from check_step(root, f"README.md:{number}", command, shown, folder)


if __name__ == "__main__":
    tree.main(check)
