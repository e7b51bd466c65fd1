# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The ABI of the C face: sizes and offsets as written down, names that are shown, the soname.

After a change on purpose: raise STILLING_ABI and the soname, then RENEW_ABI=1 writes abi.txt anew.
"""

import os
import re
import subprocess
import tempfile
import unittest
from pathlib import Path

import header

LIBRARY = Path(os.environ["STILLING_C"])
WRITTEN = Path(__file__).with_name("abi.txt")


def read(*command):
    return subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout


class Abi(unittest.TestCase):
    def test_sizes_and_offsets_are_those_written_down(self):
        now = "\n".join([f"abi {header.NUMBERS['STILLING_ABI']}", *header.layout()]) + "\n"
        if os.environ.get("RENEW_ABI"):
            WRITTEN.write_text(now, encoding="utf-8")
        self.assertEqual(now, WRITTEN.read_text(encoding="utf-8"))

    def test_c_lays_them_out_as_ctypes_does(self):
        with tempfile.TemporaryDirectory() as folder:
            source, program = Path(folder, "abi.c"), Path(folder, "abi")
            source.write_text("\n".join(header.program()), encoding="utf-8")
            subprocess.run(["cc", "-std=c11", "-Wall", "-Wextra", "-Wpedantic", "-Werror",
                            f"-I{header.HEADER.parent}", source, "-o", program], check=True)
            self.assertEqual(read(program).splitlines(), list(header.layout()))

    def test_no_padding_that_another_compiler_may_lay_otherwise(self):
        import ctypes
        for name, struct in header.structs.items():
            end = 0
            for field, *_ in struct._fields_:
                place = getattr(struct, field)
                self.assertEqual(place.offset, end, f"a gap before {name}.{field}")
                end = place.offset + place.size
            self.assertEqual(ctypes.sizeof(struct), end, f"a gap at the end of {name}")

    def test_only_its_own_names_are_shown_and_all_of_them(self):
        shown = {line.split()[-1].split("@")[0]
                 for line in read("nm", "-D", "--defined-only", LIBRARY).splitlines()}
        shown.discard("STILLING_1")  # the version they carry
        declared = set(re.findall(r"^STILLING_API [^;(]*?(\w+)\(", header.text,
                                  re.MULTILINE))
        self.assertEqual(shown, declared)

    def test_it_has_a_soname_and_needs_no_cpp_library(self):
        dynamic = read("readelf", "-d", LIBRARY)
        self.assertIn(f"[libstilling_c.so.{header.NUMBERS['STILLING_ABI']}]", dynamic)
        if not os.environ.get("STILLING_LINKED_OTHERWISE"):
            self.assertNotIn("libstdc++", dynamic)
            undefined = read("nm", "-D", "--undefined-only", LIBRARY)
            self.assertNotRegex(undefined, r"\b(malloc|calloc|realloc|free|printf|_Zn[wa]\w*)\b")


if __name__ == "__main__":
    unittest.main()
