# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Words that say nothing stay out of identifiers and file names."""

import re

import tree

BANNED = {"data", "info", "manager", "handler", "processor", "util", "helper", "smooth", "magic",
          "tmp", "utils", "helpers", "managers", "handlers", "smoothed", "smoothing", "smoother"}

# A word of the events that other programs read, one of POSIX, one of the time zone library.
ALLOWED = re.compile("no_data|sa_handler|get_info")

# Members the standard library and others named: x.data(), std::data(x).
THEIRS = re.compile(r"(\.|->|::)\s*$")
IDENTIFIER = re.compile(r"[A-Za-z_]\w*")
WORD = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])")


def banned_in(name):
    return sorted({w.lower() for w in WORD.findall(ALLOWED.sub("", name))} & BANNED)


def check(root):
    tops = ("include", "src", "tools", "tests", "bench", "bindings")
    for file in tree.files(root):
        if file.parts[0] in tops:
            for word in banned_in(file.stem):
                yield f"{file}: '{word}' says nothing; name the thing"
    for file in tree.cpp_files(root, *tops):
        code = tree.code_of(tree.text_of(root, file))
        for m in IDENTIFIER.finditer(code):
            line_start = code.rfind("\n", 0, m.start()) + 1
            if "#" in code[line_start:m.start()] and "include" in code[line_start:m.start()]:
                continue
            if THEIRS.search(code[line_start:m.start()]) and m[0] in BANNED:
                continue
            for word in banned_in(m[0]):
                yield f"{file}:{tree.line_of(code, m.start())}: '{m[0]}': '{word}' says nothing"


if __name__ == "__main__":
    tree.main(check)
