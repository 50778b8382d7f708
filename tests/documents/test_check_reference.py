"""The check of the scenario reference finds what it is there to find."""
import unittest

from check_reference import findings

SCHEMA = {"properties": {"title": {}, "blend": {"properties": {"bins": {"type": "integer"}}}}}
PAGE = "# Scenario reference\n| key |\n|---|\n{}\n## Next\n| `not-a-key` |\n"


class CheckReference(unittest.TestCase):
    def found(self, rows):
        return list(findings(PAGE.format(rows), SCHEMA))

    def test_a_complete_reference_passes(self):
        self.assertEqual(self.found("| `title` | |\n| `blend.bins` | |"), [])

    def test_a_key_left_out_is_found(self):
        self.assertEqual(
            self.found("| `title` | |\n| `blend` | |"),
            ["the reference does not mention the key 'bins'"],
        )

    def test_a_key_that_is_gone_is_found(self):
        self.assertEqual(
            self.found("| `title` | |\n| `blend.bins` | |\n| `old` | |"),
            ["the schema has no key 'old', which the reference explains"],
        )

    def test_a_page_without_reference_is_no_pass(self):
        with self.assertRaises(ValueError):
            list(findings("# Page\n", SCHEMA))


if __name__ == "__main__":
    unittest.main()
