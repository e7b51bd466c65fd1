# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""What is not installed is said with what to do; what is not used is not asked for."""

import importlib
import subprocess
import sys
import unittest
from unittest import mock

import stilling
from support import TESTS, main, plain_test


class Needs(unittest.TestCase):
    def refused(self, module, use, call):
        parents = {name: None for name in list(sys.modules) + [module]
                   if name.partition(".")[0] == module}
        with mock.patch.dict(sys.modules, parents), self.assertRaises(ImportError) as caught:
            call()
        said = str(caught.exception)
        self.assertIn(f"{use} needs {module}, which is not installed: pip install {module}", said)
        self.assertIn("pip install 'stilling[analysis]'", said)
        self.assertEqual(caught.exception.name, module)

    def test_a_missing_package_is_named_with_the_remedy(self):
        result = stilling.settle(**plain_test())
        self.refused("matplotlib", "plot()", lambda: stilling.plot(result))
        self.refused("pandas", "to_pandas()", result.to_pandas)
        self.refused("pyarrow", "to_arrow()", result.to_arrow)
        sys.modules.pop("stilling.fleet", None)
        self.refused("pyarrow", "stilling.fleet", lambda: importlib.import_module("stilling.fleet"))

    def test_what_those_names_promise_they_install(self):
        project = (TESTS.parent / "pyproject.toml").read_text()
        analysis = next(x for x in project.splitlines() if x.startswith("analysis ="))
        for package in ("matplotlib", "pandas", "pyarrow"):
            self.assertIn(f'"{package}"', analysis)

    def loaded_by(self, code):
        said = subprocess.run([sys.executable, "-B", "-c", code + "; import sys; "
                               "print(*{m.partition('.')[0] for m in sys.modules})"],
                              stdout=subprocess.PIPE, timeout=60, check=True).stdout
        return set(said.decode().split())

    def test_nothing_else_is_loaded(self):
        others = {"matplotlib", "pandas", "polars", "pyarrow", "scipy"}
        every = self.loaded_by("import stilling; [getattr(stilling, n) for n in stilling.__all__]")
        self.assertFalse(every & others)
        self.assertIn("numpy", every)
        self.assertNotIn("numpy", self.loaded_by("import stilling.__main__"))  # the command

    def test_every_name_is_there(self):
        for name in stilling.__all__:
            self.assertIn(name, dir(stilling))
            self.assertIsNotNone(getattr(stilling, name), name)
        with self.assertRaises(AttributeError):
            stilling.steady_readings


if __name__ == "__main__":
    main()
