# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Every house check finds what it is there for, and leaves a tidy tree alone."""

import sys
import tempfile
import unittest
from pathlib import Path

sys.dont_write_bytecode = True
import doors, includes, names, paths, readme, sizes  # noqa: E402,E401

TAG = "// SPDX-FileCopyrightText: the stilling authors\n// SPDX-License-Identifier: MIT\n"
HEAD = TAG + "#pragma once\n"
TABLE = """## Include table

| folder | may include |
| --- | --- |
| `terms/` | terms |
| `items/` | terms, items |
| `stages/` | terms, items, stages/stage, <boost> |
| `stilling.hpp` | anything |

## Next
"""
DEV = "#!/bin/bash\necho '  demo  shows it'\n"


class House(unittest.TestCase):
    def found(self, check, tree):
        with tempfile.TemporaryDirectory() as root:
            for name, text in tree.items():
                file = Path(root, name)
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_text(text)
                file.chmod(0o755)
            return list(check(root))

    def clean(self, check, tree):
        self.assertEqual(self.found(check, tree), [])

    def one(self, check, tree, words):
        found = self.found(check, tree)
        self.assertEqual(len(found), 1, found)
        self.assertIn(words, found[0])

    # includes

    def including(self, file, *lines):
        return {"DEVELOPERS.md": TABLE, f"include/stilling/{file}": HEAD + "\n".join(lines) + "\n"}

    def test_includes_that_follow_the_table(self):
        self.clean(includes.check, self.including(
            "stages/screen.hpp", "#include <array>", "#include <boost/circular_buffer.hpp>",
            '#include "stilling/stages/stage.hpp"', '#include "stilling/items/frame.hpp"',
            '// #include "stilling/text.hpp"'))

    def test_includes_that_look_up(self):
        self.one(includes.check, self.including("terms/time.hpp",
                 '#include "stilling/items/frame.hpp"'), "time.hpp:4: 'terms/' may not")

    def test_includes_of_a_sibling_stage(self):
        self.one(includes.check, self.including("stages/screen.hpp",
                 "#include <stilling/stages/framer.hpp>"), "may not include 'stages/framer'")

    def test_includes_of_a_library_the_floor_does_not_have(self):
        self.one(includes.check, self.including("items/frame.hpp", "#include <Eigen/Dense>"),
                 "<Eigen>")

    def test_includes_without_the_full_path(self):
        self.one(includes.check, self.including("terms/time.hpp", '#include "units.hpp"'),
                 "in full")

    def test_includes_in_a_folder_without_a_row(self):
        self.one(includes.check, self.including("attic/x.hpp", ""), "no row for 'attic/'")

    def test_includes_in_a_circle(self):
        self.one(includes.check, {
            "DEVELOPERS.md": TABLE,
            "include/stilling/terms/a.hpp": '#include "stilling/terms/b.hpp"\n',
            "include/stilling/terms/b.hpp": '#include "stilling/terms/a.hpp"\n'}, "circle")

    def test_includes_without_a_table(self):
        self.one(includes.check, {"DEVELOPERS.md": "# Nothing\n"}, "no table")

    # doors

    def test_doors_each_closed(self):
        core = "include/stilling/stages/x.hpp"
        for file, line in [
                (core, "auto t = std::chrono::steady_clock::now();"), (core, "throw 1;"),
                (core, "#include <chrono>"), (core, "std::cout << 1;"),
                (core, 'std::printf("%d", 1);'),
                ("src/text.cpp", "fmt::print(x);"), (core, "std::abort();"),
                (core, "virtual void f();"), (core, "#define LIMIT 3"),
                (core, "using namespace std;"), (core, "auto p = new int;"),
                (core, "#include <vector>"), (core, "double y = std::exp(x);"),
                ("include/stilling/session.hpp", "#include <string>")]:
            with self.subTest(line=line):
                self.one(doors.check, {file: HEAD + line + "\n"}, f"{file}:4")

    def test_doors_open_where_they_belong(self):
        self.clean(doors.check, {
            "include/stilling/terms/time.hpp": HEAD + "#include <chrono>\n",
            "include/stilling/terms/expects.hpp": HEAD + "#define STILLING_EXPECTS(x) assert(x)\n",
            "include/stilling/combustion/fuel.hpp": HEAD + "double y = std::exp(x);\n",
            "include/stilling/text.hpp": HEAD + "#include <string>\n",
            "include/stilling/stages/x.hpp": HEAD + "// there is no now() and no throw here\n"
            'auto s = "throw now() new"; int n = std::snprintf(b, 1, "x"); ::new (p) int;\n',
            "tools/main.cpp": TAG + "int main() { throw 1; }\n"})

    # sizes

    def test_sizes_of_a_tidy_header(self):
        self.clean(sizes.check, {"include/stilling/terms/time.hpp": HEAD + "// x\n" * 297,
                                 "tests/unit/terms/time_test.cpp": TAG})

    def test_sizes_of_untidy_files(self):
        test = {"tests/unit/terms/time_test.cpp": TAG}
        self.one(sizes.check, test | {"include/stilling/terms/time.hpp": HEAD + "\n" * 298}, "301")
        self.one(sizes.check, test | {"include/stilling/terms/time.hpp": TAG}, "#pragma once")
        self.one(sizes.check, {"src/x.cpp": "int x;\n"}, "SPDX")
        self.one(sizes.check, {"src/x.cpp": TAG + "//" + "x" * 99 + "\n"}, "x.cpp:3: 101 columns")
        self.one(sizes.check, {"include/stilling/terms/time.hpp": HEAD},
                 "tests/unit/terms/time_test.cpp")

    # names

    def test_names_that_say_nothing(self):
        for line in ("int user_data;", "struct DataFrame;", "void smooth();", "int tmp = 0;"):
            with self.subTest(line=line):
                self.one(names.check, {"src/x.cpp": TAG + line + "\n"}, "src/x.cpp:3")
        self.one(names.check, {"src/text_helper.cpp": TAG}, "helper")

    def test_names_of_others_and_words_that_contain_them(self):
        self.clean(names.check, {"src/x.cpp": TAG + '#include "x/data.hpp"\nauto p = v.data();'
                                 'auto q = std::data(v); int date, utility, no_data;\n'
                                 'auto s = "data";\nauto n = 1\'000;\n'})

    # paths

    def test_paths_of_a_machine(self):
        self.one(paths.check, {"README.md": "see /" + "home/ann/log.csv\n"}, "README.md:1")
        self.clean(paths.check, {"README.md": "see ./home/log.csv and https://x.example/root/a\n"})

    # readme

    def show(self, text, **more):
        return self.found(readme.check, {"README.md": text, "dev": DEV} | more)

    def sh(self, *lines):
        return self.show("# x\n\n```sh\n" + "\n".join(lines) + "\n```\n")

    def test_readme_that_tells_the_truth(self):
        self.assertEqual(self.show("# No fences\n"), [])
        self.assertEqual(self.show("```text\na = 1\n```\n"), [])
        self.assertEqual(self.sh("$ echo one > file", "$ cat file", "one"), [])
        self.assertEqual(self.sh("$ seq 5", "1", "...", "5"), [])
        self.assertEqual(self.sh("$ echo a b c", "a ... c"), [])
        self.assertEqual(self.sh("$ echo no >&2; false", "no", "(exit status 1)"), [])
        self.assertEqual(self.sh("$ echo a \\", "    b", "a b"), [])
        self.assertEqual(self.sh("$ ./dev demo"), [])

    def test_readme_that_does_not(self):
        for lines, words in [
                (["$ echo one", "two"], "printed\none"), (["$ seq 5", "1", "5"], "printed"),
                (["$ false"], "status 1, not 0"),
                (["$ true", "(exit status 2)"], "status 0, not 2"),
                (["$ ./dev dance"], "does not know 'dance'"), (["$ ./dev demo", "x"], "show none"),
                (["echo one"], "before any command"), (["$ echo x", "x", "..", ""], "printed")]:
            with self.subTest(lines=lines):
                found = self.sh(*lines)
                self.assertEqual(len(found), 1, found)
                self.assertIn(words, found[0])
        self.assertIn("call the fence 'sh'", self.show("```bash\n$ ls\n```\n")[0])

    def test_readme_toml_is_a_file_for_the_commands(self):
        self.clean(readme.check, {"README.md": "```toml\n# x.toml\na = 1\n```\n"
                                               "```sh\n$ cat x.toml\n# x.toml\na = 1\n```\n"})
        self.one(readme.check, {"README.md": "```toml\na = 1\n```\n"}, "README.md:2")

    def test_readme_cpp_is_an_example(self):
        text = "```cpp\nint main() {}\n```\n"
        same = {"tests/examples/embed.cpp": TAG + "\nint main() {}\n"}
        self.assertEqual(self.show(text, **same), [])
        self.assertIn("no file of tests/examples", self.show(text)[0])


if __name__ == "__main__":
    unittest.main()
