# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What a saved session is made of: no pointer, and no member saved_session.hpp does not know of.

    state.py ROOT [COMPILER] [--renew]

The compiler's own account (DWARF, by readelf) of every member in a default_session, down to plain
numbers, is put into one number, which stands in saved_session.hpp as `members`. Where they differ a
member came, went or moved, and what was saved before cannot be read any more: --renew writes the
new number. A change of what a member means, at the same place, is for people: raise
`state_version`.
"""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

import tree

HEADER = "include/stilling/saved_session.hpp"
NUMBER = re.compile(r"(members = )0x[0-9a-f]{16}")
PROBE = ('#include "stilling/session.hpp"\n'
         "stilling::default_session probe{stilling::session_settings{}};\n")
# A time zone belongs to the process and is given anew after restoring (`ties`); what a flaw has
# seen is gone with its row, and cleared; a rule is kept without its name.
POINTERS = re.compile(r"[.]settings_[.]zone(_offsets_at)?|[.]row_[.]flaws.*[.]seen|[.]rule_[.]name")
FORM = re.compile(r"^(\([^)]*\):?\s*)+")
ENTRY = re.compile(r"^ <(\d+)><([0-9a-f]+)>: .*\((DW_TAG_\w+)\)")
VALUE = re.compile(r"^    <[0-9a-f]+>\s+(DW_AT_\w+)\s*: (.*)$")


class Entry:
    def __init__(self, tag):
        self.tag, self.at, self.children = tag, {}, []

    def number(self, name, otherwise=0):
        return int(self.at[name].split()[-1], 0) if name in self.at else otherwise

    def name(self):
        return FORM.sub("", self.at.get("DW_AT_name", "")).strip()


def entries_of(dump):
    """All of them by their place; a new one begins a new level or ends some."""
    found, above = {}, []
    for line in dump:
        if m := ENTRY.match(line):
            level, place, tag = int(m[1]), m[2], m[3]
            now = found[place] = Entry(tag)
            del above[level:]
            if above:
                above[-1].children.append(now)
            above.append(now)
        elif (m := VALUE.match(line)) and above:
            above[-1].at.setdefault(m[1], m[2])
    return found


class Members:
    """Plain numbers and pointers of a type, each with its offset and the way to it."""

    def __init__(self, entries):
        self.entries = entries

    def type_of(self, entry):
        return self.entries[re.search(r"<0x([0-9a-f]+)>", entry.at["DW_AT_type"])[1]]

    def of(self, kind, offset, path):
        tag = kind.tag.removeprefix("DW_TAG_")
        if tag in ("typedef", "const_type", "volatile_type"):
            yield from self.of(self.type_of(kind), offset, path)
        elif tag in ("structure_type", "class_type", "union_type"):
            for child in kind.children:
                place = offset + child.number("DW_AT_data_member_location")
                if child.tag == "DW_TAG_inheritance":
                    yield from self.of(self.type_of(child), place, path)
                elif child.tag == "DW_TAG_member" and "DW_AT_external" not in child.at:
                    name = child.name()
                    # How the standard library calls its own does not matter.
                    own = f"{path}.{name}" if name and not name.startswith("_") else path
                    yield from self.of(self.type_of(child), place, own)
        elif tag == "array_type":
            counts = [c.number("DW_AT_upper_bound", -1) + 1 for c in kind.children
                      if c.tag == "DW_TAG_subrange_type"]
            yield from self.of(self.type_of(kind), offset,
                               path + "".join(f"[{n}]" for n in counts))
        elif tag in ("pointer_type", "reference_type", "rvalue_reference_type"):
            yield offset, "pointer", kind.number("DW_AT_byte_size"), path
        elif tag == "enumeration_type":
            yield offset, "enum", kind.number("DW_AT_byte_size"), path
        elif tag == "base_type":
            yield offset, kind.name(), kind.number("DW_AT_byte_size"), path
        else:
            raise ValueError(f"{tag} at {path}: teach state.py what that is")


def members_of(root, compiler):
    with tempfile.TemporaryDirectory() as folder:
        source, binary = Path(folder, "probe.cpp"), Path(folder, "probe.o")
        source.write_text(PROBE, encoding="utf-8")
        subprocess.run([compiler, "-std=c++20", "-g", "-O0", f"-I{root}/include", "-c", source,
                        "-o", binary], check=True)
        dump = subprocess.run(["readelf", "--debug-dump=info", "--wide", binary], check=True,
                              stdout=subprocess.PIPE, text=True).stdout.splitlines()
    entries = entries_of(dump)
    probe = next(e for e in entries.values()
                 if e.tag == "DW_TAG_variable" and e.name() == "probe")
    members = Members(entries)
    return list(members.of(members.type_of(probe), 0, ""))


def print_of(members):
    """FNV-1a over where everything lies; what it is called tells two numbers apart that swapped."""
    lines = sorted(f"{offset} {kind} {size} {path}\n" for offset, kind, size, path in members)
    number = 0xcbf29ce484222325
    for byte in "".join(lines).encode():
        number = (number ^ byte) * 0x100000001b3 % 2**64
    return f"0x{number:016x}"


def check(root, compiler="g++", renew=False):
    found = members_of(root, compiler)
    for offset, kind, _, path in found:
        if kind == "pointer" and not POINTERS.search(path):
            yield f"{HEADER}: a session holds an address at {offset}: {path}"
    text, now = tree.text_of(root, HEADER), print_of(found)
    said = NUMBER.search(text)
    if said and said[0].endswith(now):
        return
    if renew:
        Path(root, HEADER).write_text(NUMBER.sub(rf"\g<1>{now}", text), encoding="utf-8")
        print(f"{HEADER}: members are {now} now")
        return
    yield (f"{HEADER}: members of a session came, went or moved: saved ones cannot be read any"
           " more. python3 tests/house/state.py --renew writes the new number")


if __name__ == "__main__":
    words = [w for w in sys.argv[1:] if w != "--renew"]
    faults = list(check(Path(words[0]) if words else Path("."),
                        words[1] if len(words) > 1 else "g++", "--renew" in sys.argv))
    for fault in faults:
        print(fault)
    print(f"state: {len(faults)} finding(s)")
    sys.exit(1 if faults else 0)
