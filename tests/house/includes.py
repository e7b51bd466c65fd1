# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Includes follow the table in DEVELOPERS.md, and no header reaches itself.

A row of the table is `| folder/ or file.hpp | what it may include |`. In the second column `terms`
is a floor, `stages/stage` one header, `session` an assembly header, `<boost>` a library beside the
standard one, `anything` all of them. The standard library is always allowed.
"""

import re

import tree

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"]', re.MULTILINE)
SYSTEM = {"sys", "arpa", "netinet", "linux", "experimental"}


def read_table(text):
    rows = {}
    section = re.search(r"^## Include table\s*$(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)
    for line in section[1].splitlines() if section else []:
        cells = [c.strip().replace("`", "") for c in line.strip().strip("|").split("|")]
        if len(cells) >= 2 and line.lstrip().startswith("|") and not set(cells[0]) <= set("-: "):
            rows[cells[0]] = {w.strip() for w in cells[1].split(",") if w.strip()}
    rows.pop("folder", None)
    return rows


def place_of(file):
    parts = file.parts[2:] if file.parts[:2] == ("include", "stilling") else file.parts
    return parts[0] + "/" if len(parts) > 1 else parts[0]


def word_for(quote, name):
    """What the table must allow for this include; None: nothing."""
    if name.startswith("stilling/"):
        return re.sub(r"\.hpp$", "", name[len("stilling/"):])
    first = name.split("/")[0]
    if quote == "<" and "/" in name and first not in SYSTEM:
        return f"<{first}>"
    return None


def check(root):
    try:
        rows = read_table(tree.text_of(root, "DEVELOPERS.md"))
    except FileNotFoundError:
        rows = {}
    if not rows:
        yield "DEVELOPERS.md: no table under a heading '## Include table'"
        return
    graph = {}
    for file in tree.cpp_files(root, "include", "src", "tools"):
        allowed = rows.get(place_of(file))
        if allowed is None:
            yield f"{file}: no row for '{place_of(file)}' in the include table of DEVELOPERS.md"
            continue
        text = tree.without_comments(tree.text_of(root, file))
        for m in INCLUDE.finditer(text):
            where = f"{file}:{tree.line_of(text, m.start())}"
            if file.parts[0] == "include" and m[1] == '"' and not m[2].startswith("stilling/"):
                yield f"{where}: write the path in full, \"stilling/...\", not \"{m[2]}\""
            word = word_for(m[1], m[2])
            if word is None:
                continue
            if file.parts[0] == "include" and m[2].startswith("stilling/"):
                graph.setdefault(str(file), []).append("include/" + m[2])
            floor = word.split("/")[0]
            if not allowed & {word, floor, "anything"}:
                yield (f"{where}: '{place_of(file)}' may not include '{word}' "
                       f"(it may: {', '.join(sorted(allowed))})")
    yield from circles(graph)


def circles(graph):
    done = set()

    def walk(file, path):
        if file in path:
            yield "a circle of includes: " + " -> ".join(path[path.index(file):] + [file])
        elif file not in done:
            for next_file in graph.get(file, []):
                yield from walk(next_file, path + [file])
            done.add(file)

    for file in sorted(graph):
        yield from walk(file, [])


if __name__ == "__main__":
    tree.main(check)
