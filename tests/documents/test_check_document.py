"""The check of the documents finds what it is there to find."""
import pathlib
import tempfile
import unittest

from check_document import findings

BLOCK = "<!-- file: held.txt -->\n```text\n{}```\n"


class CheckDocument(unittest.TestCase):
    def setUp(self):
        scratch = tempfile.TemporaryDirectory()
        self.addCleanup(scratch.cleanup)
        self.folder = pathlib.Path(scratch.name)
        (self.folder / "held.txt").write_text("one\ntwo\n", encoding="utf-8")

    def found(self, text):
        document = self.folder / "page.md"
        document.write_text(text, encoding="utf-8")
        return findings(document)

    def test_a_block_that_equals_its_file_passes(self):
        self.assertEqual(self.found("# Page\n\n" + BLOCK.format("one\ntwo\n")), [])

    def test_a_changed_line_is_found_and_shown(self):
        self.assertEqual(
            self.found(BLOCK.format("one\nTWO\n")),
            ["2: differs from held.txt: line 2 of the block is 'TWO', of the file 'two'"],
        )

    def test_a_missing_line_is_found(self):
        self.assertEqual(len(self.found(BLOCK.format("one\n"))), 1)

    def test_a_surplus_line_is_found(self):
        self.assertEqual(len(self.found(BLOCK.format("one\ntwo\nthree\n"))), 1)

    def test_a_file_that_does_not_exist_is_found(self):
        self.assertIn("no file gone.txt", self.found("<!-- file: gone.txt -->\n```text\n```\n")[0])

    def test_a_report_without_a_file_is_found(self):
        self.assertIn("names no file", self.found("```text\none\n```\n")[0])
        self.assertIn("names no file", self.found("```\none\n```\n")[0])

    def test_words_between_comment_and_block_part_them(self):
        text = "<!-- file: held.txt -->\nwords\n```text\none\ntwo\n```\n"
        self.assertIn("names no file", self.found(text)[0])

    def test_a_part_may_be_indented_but_not_changed(self):
        (self.folder / "held.txt").write_text("a\n  b\n    c\nd\n", encoding="utf-8")
        part = "<!-- part of: held.txt -->\n```cpp\n{}```\n"
        self.assertEqual(self.found(part.format("b\n  c\n")), [])
        self.assertEqual(self.found(part.format("  b\n    c\n")), [])
        self.assertIn("do not stand in held.txt", self.found(part.format("b\nc\n"))[0])
        self.assertIn("do not stand in held.txt", self.found(part.format("a\nd\n"))[0])
        self.assertIn("do not stand in held.txt", self.found(part.format(""))[0])

    def test_shell_lines_may_go_without_a_file(self):
        self.assertEqual(self.found("```sh\ncmake --preset dev\n```\n"), [])

    def test_an_open_block_is_found(self):
        self.assertIn("never closed", self.found("```sh\nls\n")[0])

    def test_a_dead_link_is_found(self):
        self.assertIn("does not exist", self.found("See [it](gone.md).\n")[0])

    def test_a_dead_heading_is_found(self):
        self.assertEqual(self.found("# Two words\nSee [it](#two-words).\n"), [])
        self.assertIn("no heading", self.found("# Two words\nSee [it](#three-words).\n")[0])


if __name__ == "__main__":
    unittest.main()
