# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Every file is tagged and narrow, every header short and once-only, with a test of its name."""

from pathlib import Path

import tree

MOST_LINES = 300
MOST_COLUMNS = 100
TAGS = ("SPDX-FileCopyrightText: the stilling authors", "SPDX-License-Identifier: MIT")
COMMENT = {".hpp": "// ", ".cpp": "// ", ".h": "// ", ".py": "# ", ".sh": "# ", ".cmake": "# "}
UMBRELLA = Path("include/stilling/stilling.hpp")


def check(root):
    everything = set(tree.files(root))
    for file in sorted(everything):
        comment = "# " if file.name == "CMakeLists.txt" else COMMENT.get(file.suffix)
        if comment is None:
            continue
        lines = tree.text_of(root, file).splitlines()
        head = [line for line in lines[:3] if not line.startswith("#!")]
        if head[:2] != [comment + tag for tag in TAGS]:
            yield f"{file}:1: must begin with '{comment}{TAGS[0]}' and '{comment}{TAGS[1]}'"
        for number, line in enumerate(lines, 1):
            if len(line) > MOST_COLUMNS:
                yield f"{file}:{number}: {len(line)} columns, at most {MOST_COLUMNS}"
        if file.suffix == ".hpp" and "#pragma once" not in lines[:4]:
            yield f"{file}:3: '#pragma once' belongs here"
        if file.parts[:2] == ("include", "stilling"):
            if len(lines) > MOST_LINES:
                yield f"{file}: {len(lines)} lines, at most {MOST_LINES}: two ideas in one header?"
            twin = Path("tests/unit", *file.parts[2:-1], file.stem + "_test.cpp")
            if file != UMBRELLA and twin not in everything:
                yield f"{file}: has no test; it belongs in {twin}"


if __name__ == "__main__":
    tree.main(check)
