# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""No tracked file knows the machine it was written on."""

import re

import tree

OF_A_MACHINE = re.compile(r"(?:^|[^A-Za-z0-9_.])"
                          r"(/(?:work|root|home|Users|mnt)/\S*|[A-Z]:\\Users\\\S*)")


def check(root):
    for file in tree.files(root):
        text = tree.text_of(root, file)
        if "\0" in text:
            continue
        for number, line in enumerate(text.splitlines(), 1):
            for m in OF_A_MACHINE.finditer(line):
                yield f"{file}:{number}: '{m[1]}' is a path of one machine"


if __name__ == "__main__":
    tree.main(check)
