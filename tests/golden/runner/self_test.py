#!/usr/bin/env python3
"""tests/support/golden.py and expect.py prove themselves: each kind of difference is seen."""

import contextlib
import io
import os
import pathlib
import sys
import tempfile
import unittest

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / "support"))
import expect  # noqa: E402
import golden  # noqa: E402

PROGRAM = """#!/bin/sh
case $1 in
  say) cat "$2" ;;
  complain) echo "no $2" >&2; exit 3 ;;
  write) mkdir -p out && printf 'tune\\n## head\\n' > "out/$2" ;;
  echo) cat ;;
  here) pwd ;;
esac
"""

GOOD = """prints the file

## run
relead say a.txt

## file a.txt
one

two

## stdout
one

two
"""


class GoldenRunner(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.addCleanup(self.folder.cleanup)
        self.top = pathlib.Path(self.folder.name)
        self.binary = self.top / "relead"
        self.binary.write_text(PROGRAM)
        self.binary.chmod(0o755)

    def verdict(self, text, update=False):
        path = self.top / "case.txt"
        path.write_text(text)
        verdict = golden.judge(path, self.binary, update)
        self.after = path.read_text()
        return verdict

    def test_a_case_that_holds(self):
        self.assertEqual(self.verdict(GOOD), "")

    def test_wrong_output_is_seen(self):
        self.assertIn("-two\n+three", self.verdict(GOOD.replace("two\n\n## stdout", "three\n\n## stdout")))

    def test_output_that_the_case_does_not_show_is_seen(self):
        self.assertIn("+one", self.verdict(GOOD[: GOOD.index("\n## stdout")]))

    def test_errors_and_the_exit_code_are_compared(self):
        text = "## run\nrelead complain bass\n\n## stderr\nno bass\n\n## exit\n3\n"
        self.assertEqual(self.verdict(text), "")
        self.assertIn("stderr", self.verdict(text.replace("no bass", "no drums")))
        self.assertIn("exit", self.verdict(text.replace("\n3\n", "\n1\n")))
        self.assertIn("exit", self.verdict(text[: text.index("\n## exit")]))

    def test_files_written_and_not_written(self):
        text = "## run\nrelead write b\n\n## wrote out/b\ntune\n\\## head\n\n## absent out/c\n"
        self.assertEqual(self.verdict(text), "")
        self.assertIn("wrote out/b", self.verdict(text.replace("tune\n", "song\n")))
        self.assertIn("missing", self.verdict(text.replace("wrote out/b", "wrote out/d")))
        self.assertIn("is there", self.verdict(text.replace("absent out/c", "absent out/b")))

    def test_a_missing_line_end_is_seen_and_can_be_shown(self):
        text = "## run\nprintf x\n\n## stdout (no line end)\nx\n"
        self.assertEqual(self.verdict(text), "")
        self.assertNotEqual(self.verdict(text.replace(" (no line end)", "")), "")

    def test_input_and_the_folder_s_name(self):
        self.assertEqual(self.verdict("## run\nrelead echo\n\n## stdin\nhi\n\n## stdout\nhi\n"), "")
        self.assertEqual(self.verdict("## run\nrelead here\n\n## stdout\nFOLDER\n"), "")

    def test_update_rewrites_only_what_differs(self):
        bad = GOOD.replace("two\n\n## stdout", "three\n\n## stdout") + "\n## exit\n1\n"
        self.assertEqual(self.verdict(bad, update=True), "")
        self.assertEqual(self.after, GOOD.replace("two", "three"))
        self.verdict(GOOD, update=True)
        self.assertEqual(self.after, GOOD)
        self.verdict("## run\nrelead write b\n\n## wrote out/b\n", update=True)
        self.assertEqual(self.after, "## run\nrelead write b\n\n## wrote out/b\ntune\n\\## head\n")

    def test_update_does_not_hide_a_file_that_must_not_be_there(self):
        self.assertIn("is there", self.verdict("## run\nrelead write b\n\n## absent out/b\n", update=True))

    def test_a_program_that_is_being_built_again_does_not_spoil_a_case(self):
        self.binary.unlink()
        self.assertIn("vanished", self.verdict(GOOD, update=True))
        self.assertEqual(self.after, GOOD)

    def test_elisions_survive_an_update_that_changes_nothing_in_them(self):
        text = GOOD.replace("one\n\ntwo\n", "…\ntwo\n").replace("…\ntwo\n", "one\n\ntwo\n", 1)
        self.assertEqual(self.verdict(text, update=True), "")
        self.assertEqual(self.after, text)

    def test_wrong_golden_files_are_refused(self):
        for text in ("", "## run\na\n\n## run\nb\n", "## run\na\n\n## other\n", "## run\na\n\n## file\n",
                     "## run x\na\n", "## run\na\n\n## file ../x\n", "## run\na\n\n## file /x\n", "## !\n"):
            self.assertIn("golden file is wrong", self.verdict(text), text)

    def test_the_exit_code_tells(self):
        os.environ["RELEAD_BINARY"] = str(self.binary)
        path = self.top / "case.txt"
        with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
            path.write_text(GOOD)
            self.assertEqual(golden.main([str(path)]), 0)
            path.write_text(GOOD + "more\n")
            self.assertEqual(golden.main([str(path)]), 1)
            (self.top / "empty").mkdir()
            self.assertEqual(golden.main([str(self.top / "empty")]), 1)
            os.environ["RELEAD_BINARY"] = str(self.top / "nothing")
            self.assertEqual(golden.main([str(path)]), 2)


class Expect(unittest.TestCase):
    def test_elisions(self):
        holds = [("a\n", "a\n"), ("…\n", ""), ("…\n", "a\nb\n"), ("a\n…\n", "a\n"), ("a\n…\nd\n", "a\nb\nc\nd\n"),
                 ("…\nb\n…\n", "a\nb\nc\n"), ("a\n…\nb\n…\nb\n", "a\nb\nx\nb\n"), ("  …\nz\n", "x\nz\n")]
        fails = [("a\n", "b\n"), ("a\n", "a"), ("a\n…\n", "b\n"), ("…\na\n", "a\nb\n"), ("a\n…\na\n", "a\n"),
                 ("…\nc\n…\nb\n…\n", "a\nb\nc\n"), ("a\n…\nb\nb\n", "a\nb\n"), ("a\n", "a\n\n"), ("", "a\n")]
        for expected, actual in holds:
            self.assertTrue(expect.matches(expected, actual), (expected, actual))
        for expected, actual in fails:
            self.assertFalse(expect.matches(expected, actual), (expected, actual))


if __name__ == "__main__":
    unittest.main()
