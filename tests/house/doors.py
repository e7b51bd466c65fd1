# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The five doors: what the library never does, and where alone some of it may be done."""

import re

import tree

LIBRARY = r"(include|src)/"
CORE = r"include/stilling/((terms|items|estimators|stages)/|session\.hpp)"
BITS = r"include/stilling/(estimators|stages)/"

# (where, except there, what, why)
RULES = [
    (LIBRARY, None, r"\bnow\s*\(|\bstd::time\s*\("
                    r"|\b(gettimeofday|clock_gettime|timespec_get)\s*\(",
     "the library reads no clock: time comes with the stream or by advance(instant)"),
    (LIBRARY, r"include/stilling/terms/time\.hpp", r"#\s*include\s*<(chrono|ctime|time\.h)>",
     "only terms/time.hpp includes <chrono>"),
    (LIBRARY, None, r"\bthrow\b", "nothing in the library throws"),
    (LIBRARY, None, r"\bstd::(cout|cerr|clog|cin)\b|#\s*include\s*<iostream>"
                    r"|\b(printf|fprintf|vprintf|vfprintf|puts|fputs|putchar|putc|fputc"
                    r"|fwrite)\s*\(|\bfmt::print\b",
     "the library prints nothing: text goes out through text.hpp, to a place the caller names"),
    (LIBRARY, None, r"\b(std::)?(exit|quick_exit|_Exit|abort|terminate)\s*\(",
     "the library never ends the program"),
    (LIBRARY, None, r"\bvirtual\b|\bdynamic_cast\b|\btypeid\b", "no virtual calls, no RTTI"),
    (r"include/", None, r"#\s*define\s+(?!STILLING_EXPECTS\b)\w+",
     "STILLING_EXPECTS is the only macro"),
    (r"include/", None, r"^using\s+namespace\b", "a header must not open a namespace for others"),
    (CORE, None, r"\bnew\b(?!\s*\()|\b(malloc|calloc|realloc|make_unique|make_shared)\b"
                 r"|#\s*include\s*<(vector|string|map|set|unordered_map|unordered_set|deque|list"
                 r"|functional|sstream|fstream|regex|any)>",
     "nothing in the core allocates"),
    (BITS, None, r"\bstd::(exp|exp2|expm1|log|log2|log10|log1p|pow|sin|cos|tan|asin|acos|atan|atan2"
                 r"|sinh|cosh|tanh|cbrt|hypot|fma|erf|erfc|tgamma|lgamma|reduce"
                 r"|transform_reduce)\b",
     "bits agree across machines: only + - * / sqrt, in a fixed order"),
]


def check(root):
    for file in tree.cpp_files(root, "include", "src"):
        code = tree.code_of(tree.text_of(root, file))
        for where, but, what, why in RULES:
            if re.match(where, file.as_posix()) and not (but and re.match(but, file.as_posix())):
                for m in re.finditer(what, code, re.MULTILINE):
                    yield f"{file}:{tree.line_of(code, m.start())}: '{m[0].strip()}': {why}"


if __name__ == "__main__":
    tree.main(check)
