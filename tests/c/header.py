# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""stilling.h as Python sees it: its structs as ctypes, read from the header itself, so that a field
has the same name in C, here and in the JSON lines."""

import ctypes
import re
from pathlib import Path

HEADER = Path(__file__).resolve().parents[2] / "bindings" / "c" / "stilling.h"
TYPES = {"double": ctypes.c_double, "char": ctypes.c_char,
         **{f"{u}int{n}_t": getattr(ctypes, f"c_{u}int{n}")
            for u in ("", "u") for n in (8, 16, 32, 64)}}
FIELD = re.compile(r"(\w+)\s+(\w+)(?:\[([^\]]+)\])?;")
STRUCT = re.compile(r"typedef struct (\w+) \{(.*?)\} \1;", re.DOTALL)
UNION = re.compile(r"union \{(.*?)\} (\w+);", re.DOTALL)

text = re.sub(r"/\*.*?\*/", "", HEADER.read_text(encoding="utf-8"), flags=re.DOTALL)
NUMBERS = {m[1]: int(m[2]) for m in re.finditer(r"#define (STILLING_\w+) (\d+)", text)}
structs = {}


def number(words):
    return sum(NUMBERS.get(w) or int(w) for w in words.replace("+", " ").split())


def fields_of(inside):
    for kind, name, count in FIELD.findall(inside):
        of = TYPES.get(kind) or structs[kind]
        yield name, of * number(count) if count else of


def read():
    for name, inside in STRUCT.findall(text):
        fields, union = [], UNION.search(inside)
        if union:
            inside = inside.replace(union[0], "")
        fields += fields_of(inside)
        if union:
            fields.append((union[2], type(f"{name}_of", (ctypes.Union,),
                                          {"_fields_": list(fields_of(union[1]))})))
        structs[name] = type(name, (ctypes.Structure,), {"_fields_": fields})
    for m in re.finditer(r"typedef enum \w+ \{(.*?)\}", text, re.DOTALL):
        following = 0
        for name, value in re.findall(r"(STILLING_\w+)(?:\s*=\s*(\d+))?", m[1]):
            NUMBERS[name] = following = int(value) if value else following
            following += 1


read()


def layout():
    """A line for each struct and each field: where ctypes would have it, and how large."""
    for name, struct in structs.items():
        yield f"{name} {ctypes.sizeof(struct)}"
        for field, *_ in struct._fields_:
            place = getattr(struct, field)
            yield f"{name}.{field} {place.offset} {place.size}"


def program():
    """The same lines, as C has them."""
    yield '#include <stdio.h>\n#include "stilling.h"\nint main(void) {'
    for name, struct in structs.items():
        yield f'  printf("{name} %zu\\n", sizeof({name}));'
        for field, *_ in struct._fields_:
            yield (f'  printf("{name}.{field} %zu %zu\\n", offsetof({name}, {field}),'
                   f" sizeof((({name}*)0)->{field}));")
    yield "  return 0;\n}"


def load(path):
    """The shared library, with the types of its functions."""
    library = ctypes.CDLL(str(path))
    for m in re.finditer(r"^STILLING_API (.*?)\((.*?)\);", text, re.DOTALL | re.MULTILINE):
        result, name = re.match(r"(.*?)(\w+)$", m[1], re.DOTALL).groups()
        function = getattr(library, name)
        function.restype = {"size_t": ctypes.c_size_t, "void": None, "uint32_t": ctypes.c_uint32,
                            "const char*": ctypes.c_char_p}.get(result.strip(), ctypes.c_int)
        function.argtypes = [of_argument(a) for a in m[2].split(",") if a.strip() != "void"]
    return library


def of_argument(words):
    kind = " ".join(words.split()[:-1])
    if "char**" in kind:
        return ctypes.POINTER(ctypes.c_char_p)
    if "char*" in kind:
        return ctypes.c_char_p
    if "**" in kind:
        return ctypes.POINTER(ctypes.c_void_p)
    if kind == "size_t*":
        return ctypes.POINTER(ctypes.c_size_t)
    if "*" in kind:
        return ctypes.c_void_p
    return {"size_t": ctypes.c_size_t, "int64_t": ctypes.c_int64,
            "uint32_t": ctypes.c_uint32}.get(kind, ctypes.c_int)
