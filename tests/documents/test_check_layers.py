"""The check of the layers finds what it is there to find."""
import pathlib
import tempfile
import unittest

from check_layers import PUBLIC, findings


class CheckLayers(unittest.TestCase):
    def setUp(self):
        scratch = tempfile.TemporaryDirectory()
        self.addCleanup(scratch.cleanup)
        self.root = pathlib.Path(scratch.name)

        for stems in PUBLIC.values():
            for stem in stems.split():
                self.written(f"include/leastwise/{stem}.hpp", "")

    def written(self, file, text):
        path = self.root / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def found(self, file, text):
        self.written(f"src/{file}", text)
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

    def test_a_public_header_belongs_to_its_room(self):
        self.assertEqual(
            self.found("model/b.cpp", "#include <leastwise/formulate.hpp>\n"),
            ["model/b.cpp:1: model must not know solve"],
        )
        self.written("include/leastwise/scenario.hpp", "#include <leastwise/report.hpp>\n")
        self.assertEqual(
            self.found("model/b.cpp", ""), ["include scenario.hpp:1: scenario must not know report"]
        )

    def test_every_public_header_has_a_room(self):
        self.written("include/leastwise/new.hpp", "")
        self.assertEqual(
            self.found("model/b.cpp", ""),
            ["new: public header without a room in check_layers.py"],
        )

    def test_a_name_of_a_file_is_given_once(self):
        self.assertEqual(self.found("model/page.cpp", ""), [])
        self.assertEqual(self.found("report/page.cpp", ""), ["page.cpp: 2 files of this name"])

    def test_an_empty_folder_is_no_pass(self):
        self.assertEqual(len(list(findings(self.root))), 1)

    def test_an_unknown_folder_may_know_nothing(self):
        self.assertEqual(len(self.found("new/a.cpp", '#include "model/model.hpp"\n')), 1)


if __name__ == "__main__":
    unittest.main()
