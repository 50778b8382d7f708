"""The check of the layers finds what it is there to find."""
import pathlib
import tempfile
import unittest

from check_layers import findings


class CheckLayers(unittest.TestCase):
    def setUp(self):
        scratch = tempfile.TemporaryDirectory()
        self.addCleanup(scratch.cleanup)
        self.root = pathlib.Path(scratch.name)

    def found(self, file, text):
        path = self.root / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return list(findings(self.root))

    def test_the_solver_may_know_the_model_and_never_back(self):
        self.assertEqual(self.found("solver/a.cpp", '#include "model/model.hpp"\n'), [])
        self.assertEqual(
            self.found("model/b.cpp", '#include "solver/search.hpp"\n'),
            ["model/b.cpp:1: model must not know solver"],
        )

    def test_a_third_party_has_one_home(self):
        self.assertEqual(self.found("solver/a.cpp", "#include <ClpSimplex.hpp>\n"), [])
        self.assertIn("only solver", self.found("model/b.cpp", "#include <ClpSimplex.hpp>\n")[0])
        self.assertIn("only report", self.found("model/b.cpp", "#include <fmt/format.h>\n")[0])

    def test_the_checker_of_proofs_stays_short(self):
        code = "int a;  // a\n\n  // only said\n"
        self.assertEqual(self.found("verify/a.cpp", code * 449), [])
        self.assertEqual(
            self.found("verify/b.hpp", code),
            ["verify: 450 lines of code, which must be fewer than 450"],
        )

    def test_an_empty_folder_is_no_pass(self):
        self.assertEqual(len(list(findings(self.root))), 1)

    def test_an_unknown_folder_may_know_nothing(self):
        self.assertEqual(len(self.found("new/a.cpp", '#include "model/model.hpp"\n')), 1)


if __name__ == "__main__":
    unittest.main()
