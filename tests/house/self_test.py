#!/usr/bin/env python3
"""The house tests prove that they can fail: each gets a small bad project and must say what is wrong with it."""

import os
import pathlib
import tempfile
import unittest

import codes
import layering
import readme
import sizes
import sources
import top_level
import words


class HouseTest(unittest.TestCase):
    def setUp(self):
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.root = pathlib.Path(folder.name)

    def put(self, place: str, text: str) -> None:
        path = self.root / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)

    def found(self, problems, part: str) -> None:
        problems = problems[0] if isinstance(problems, tuple) else problems
        self.assertTrue(any(part in problem for problem in problems), f"{part!r} not in {problems}")


class TopLevel(HouseTest):
    def test_what_a_run_left(self):
        good = ["README.md", ".ci/run", "compiler/base/fmt.h", "tests/run.sh"]
        self.assertEqual(top_level.check(self.root, good), [])
        for bad in ["slip.mild.tune", ".relead-state", "tonight/slip.mild.musicxml", "tests"]:
            self.found(top_level.check(self.root, [*good, bad]), bad.split("/", 1)[0])


class Layering(HouseTest):
    def verdict(self, place: str, include: str) -> list:
        self.put(place, f"#include {include}\n")
        return layering.check(self.root)

    def test_good_edges(self):
        for place, include in [("compiler/tune/a.cpp", '"theory/note.h"'), ("compiler/tune/a.cpp", '"tune/a.h"'),
                               ("compiler/text/a.cpp", "<unicode/brkiter.h>"), ("compiler/text/a.h", "<vector>"),
                               ("compiler/formats/json/a.cpp", "<nlohmann/json.hpp>"), ("include/relead/a.h", "<relead/b.h>"),
                               ("compiler/cli/a.cpp", "<CLI/CLI.hpp>"), ("compiler/cli/a.cpp", '"base/fmt.h"'),
                               ("compiler/formats/musicxml/a.cpp", "<pugixml.hpp>"), ("compiler/base/fmt.h", "<fmt/format.h>")]:
            self.assertEqual(self.verdict(place, include), [], (place, include))

    def test_bad_edges(self):
        for place, include in [("compiler/theory/a.h", '"syntax/tree.h"'), ("compiler/theory/a.h", '"text/source.h"'),
                               ("compiler/base/a.h", '"text/source.h"'), ("compiler/score/a.h", '"rules/rule.h"'),
                               ("compiler/score/a.h", '"tune/tune.h"'), ("compiler/formats/a.cpp", '"tune/tune.h"'),
                               ("compiler/tune/a.cpp", '"cli/files.h"'), ("compiler/tune/a.cpp", '"a.h"'),
                               ("compiler/tune/a.cpp", '"../theory/a.h"'), ("compiler/text/a.h", "<unicode/brkiter.h>"),
                               ("compiler/syntax/a.cpp", "<unicode/brkiter.h>"), ("compiler/pipeline/a.cpp", "<pugixml.hpp>"),
                               ("compiler/formats/musicxml/a.h", "<pugixml.hpp>"), ("compiler/formats/a.cpp", "<nlohmann/json.hpp>"),
                               ("compiler/pipeline/a.cpp", "<CLI/CLI.hpp>"), ("compiler/tune/a.cpp", "<fmt/format.h>"),
                               ("compiler/tune/a.h", '"base/fmt.h"'), ("compiler/tune/a.cpp", "<boost/any.hpp>"),
                               ("include/relead/a.h", '"text/source.h"'), ("include/relead/a.h", "<fmt/format.h>")]:
            self.found(self.verdict(place, include), f"{place}:1: ")
            (self.root / place).unlink()

    def test_libraries_confined_to_some_files(self):
        self.put("compiler/cli/a.cpp", "#include <CLI/CLI.hpp>\n")
        self.found(self.verdict("compiler/cli/b.cpp", "<CLI/CLI.hpp>"), "included by 2 files, 1 allowed")
        for name in "abc":
            self.put(f"compiler/formats/json/{name}.cpp", "# include <nlohmann/json.hpp>\n")
        self.found(layering.check(self.root), "included by 3 files, 2 allowed")

    def test_an_empty_project(self):
        self.found(layering.check(self.root), "no sources")


class Sizes(HouseTest):
    def test_files(self):
        self.put("compiler/a/a.cpp", "//\n" * 600 + "int f() {\n}\n")
        self.put("compiler/a/b.cpp", "//\n" * 401)
        problems, notes = sizes.check(self.root)
        self.found(problems, "a.cpp: 602 lines")
        self.found(notes, "b.cpp: 401 lines")
        self.assertEqual(len(problems), 1)

    def function(self, lines: int, above="") -> str:
        return f"{above}int f() {{\n" + "    g();\n" * (lines - 2) + "}\n"

    def test_functions(self):
        self.put("compiler/a/a.cpp", self.function(61))
        self.found(sizes.check(self.root), "f has 61 lines")
        self.found(sizes.check(self.root), "nine of ten functions have up to 61 lines")
        self.put("compiler/a/a.cpp", self.function(30))
        self.assertEqual(sizes.check(self.root)[0], [])
        short = "".join(f"int g{i}() {{ return {i}; }}\n" for i in range(20))
        self.put("compiler/a/a.cpp", short + self.function(61, "// long: one row a case\n"))
        self.assertEqual(sizes.check(self.root)[0], [])
        self.put("compiler/a/a.cpp", short + self.function(61, "// long: \n"))
        self.found(sizes.check(self.root), "f has 61 lines")

    def test_python(self):
        self.put("compiler/a/a.cpp", self.function(3))
        self.put("tests/a.py", "def long_one():\n" + "    pass\n" * 60)
        self.found(sizes.check(self.root), "long_one has 61 lines")

    def test_nothing_to_measure(self):
        self.found(sizes.check(self.root), "no functions found")


class Sources(HouseTest):
    def test_files_that_are_never_built(self):
        self.put("compiler/a/a.cpp", "")
        self.found(sources.check(self.root), "a.cpp: there is no CMakeLists.txt")
        self.put("compiler/a/CMakeLists.txt", "add(x b/b.cpp\n  aa.cpp)\n")
        self.put("compiler/a/b/b.cpp", "")
        self.found(sources.check(self.root), "a.cpp: not named in compiler/a/CMakeLists.txt")
        self.put("compiler/a/CMakeLists.txt", "add(x b.cpp\n  a.cpp)\n")
        self.found(sources.check(self.root), "b/b.cpp: not named")
        self.put("compiler/a/CMakeLists.txt", "add(x b/b.cpp\n  a.cpp)\n")
        self.put("tests/support/c.cpp", "")
        self.put("tests/unit/CMakeLists.txt", "add(x ../c.cpp)\n")
        self.found(sources.check(self.root), "c.cpp")
        self.put("tests/unit/CMakeLists.txt", "add(x ../support/c.cpp)\n")
        self.assertEqual(sources.check(self.root), [])


class Words(HouseTest):
    def test_bad_words(self):
        for text in ("see /ho" "me/ann/x", "cd /t" "mp", "'/ro" "ot/x'", "// TO" "DO later", "# FIX" "ME", "<<<<<<< HEAD",
                     "../sha" "red/notes", "as plan" ".md says"):
            self.put("a.sh", text + "\n")
            self.found(words.check(self.root), "a.sh:1: ")

    def test_fine_words(self):
        self.put("docs/real.md", "[here](../a.sh) [web](https://example.org/x.md)\n")
        self.put("a.sh", "docs/real.md\nhttps://example.org/home/other.md\n$HOME/root\n/usr/bin/x\nTodo lists\n"
                         "../sha" "red/musicxml-4.0-xsd/musicxml.xsd\n=======x\n")
        self.assertEqual(words.check(self.root), [])

    def test_dead_links(self):
        self.put("a" ".md", "[x](nothing.txt)\n")
        self.found(words.check(self.root), "leads nowhere")


class Codes(HouseTest):
    def test_codes(self):
        self.put("compiler/text/codes.def", "RELEAD_CODE(bar_overfull, error, \"x\")\n")
        self.found(codes.check(self.root), "bar-overfull: nothing in compiler/ emits it")
        self.found(codes.check(self.root), "bar-overfull: no test provokes it")
        self.put("compiler/tune/a.cpp", "sink.emit(Code::bar_overfull);\n")
        self.put("tests/golden/check/a.txt", "bad [bar-overfull-too]\n")
        self.found(codes.check(self.root), "no test provokes it")
        self.put("tests/golden/check/a.txt", "bad [bar-overfull]\n")
        self.assertEqual(codes.check(self.root), [])

    def test_the_table_itself(self):
        self.found(codes.check(self.root), "no codes found")
        self.put("compiler/text/codes.def", "RELEAD_CODE(a, error, \"x\")\nRELEAD_CODE(a, error, \"x\")\n")
        self.found(codes.check(self.root), "a stands twice")


TOP = "```sh\nsh samples/demo.sh\nsh tests/run.sh\n```\n"


class Readme(HouseTest):
    def setUp(self):
        super().setUp()
        self.put("bin/relead", "#!/bin/sh\necho \"said $*\"; [ \"$1\" != fail ]\n")
        (self.root / "bin/relead").chmod(0o755)
        os.environ["RELEAD_BINARY"] = str(self.root / "bin/relead")

    def verdict(self, text: str) -> list:
        self.put("README.md", text)
        return readme.check(self.root)

    def test_commands_that_hold(self):
        self.assertEqual(self.verdict(TOP + "```console\n$ relead a b\nsaid a b\n$ true\n\n$ relead \\\nc\nsaid c\n```\n"), [])
        self.assertEqual(self.verdict(TOP + "```console\n$ relead fail error\nsaid fail error\n```\n"), [])
        self.assertEqual(self.verdict(TOP + "```sh\n# a remark\nrelead x\n```\n```\nnot a command\n```\n"), [])
        self.assertEqual(self.verdict(TOP + "```console\n$ touch a\n```\n```console\n$ ls a\na\n```\n"), [])

    def test_wrong_output_is_seen(self):
        self.found(self.verdict(TOP + "```console\n$ relead a\nsaid b\n```\n"), "+said a")
        self.found(self.verdict(TOP + "```console\n$ relead a\n```\n"), "+said a")
        self.found(self.verdict(TOP + "```console\n$ relead fail\nsaid fail\n```\n"), "exit code 1")
        self.found(self.verdict(TOP + "```sh\nrelead fail\n```\n"), "exit code 1")

    def test_a_readme_without_commands(self):
        self.found(self.verdict(TOP), "shows no commands")
        self.found(self.verdict("```sh\ntrue\n```\n"), "does not show `sh samples/demo.sh`")

    def test_what_is_missing(self):
        self.found(readme.check(self.root), "no README.md")
        os.environ["RELEAD_BINARY"] = str(self.root / "nothing")
        self.found(self.verdict(TOP), "RELEAD_BINARY")


if __name__ == "__main__":
    unittest.main()
