#include <doctest/doctest.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/note.hpp>

#include <stdexcept>

using leastwise::Diagnostic;
using leastwise::InputError;
using leastwise::Severity;

namespace {

Diagnostic at(int line, int column, std::string message, Severity severity = Severity::error) {
  Diagnostic diagnostic;
  diagnostic.severity = severity;
  diagnostic.message = std::move(message);
  diagnostic.place = {"spring.yaml", line, column, 1};
  return diagnostic;
}

}  // namespace

TEST_SUITE("diagnostic") {
  TEST_CASE("a diagnostic reads as file, line, column, message, code and the line with a caret") {
    Diagnostic diagnostic = at(14, 18, "expected a number for price_per_t, found '4l0'");
    diagnostic.code = "bad-number";
    diagnostic.place.width = 3;
    diagnostic.line_text = "    price_per_t: 4l0";
    CHECK(diagnostic.to_text() ==
          "spring.yaml:14:18: error: expected a number for price_per_t, found '4l0' "
          "[bad-number]\n"
          "   14 |     price_per_t: 4l0\n"
          "      |                  ^^^");
  }

  TEST_CASE("the caret stands under characters, not bytes, and stays inside the line") {
    Diagnostic diagnostic = at(2, 8, "odd");
    diagnostic.line_text = "größe: ü";
    diagnostic.place.width = 9;
    CHECK(diagnostic.to_text() ==
          "spring.yaml:2:8: error: odd\n    2 | größe: ü\n      |        ^");
  }

  TEST_CASE("a line number with many digits keeps the caret in its column") {
    Diagnostic diagnostic = at(1234567, 3, "odd");
    diagnostic.line_text = "  x";
    CHECK(diagnostic.to_text() ==
          "spring.yaml:1234567:3: error: odd\n1234567 |   x\n        |   ^");
  }

  TEST_CASE("without a text the path stands where the position would") {
    Diagnostic diagnostic;
    diagnostic.path = "materials.urea.price_per_t";
    diagnostic.message = "odd";
    CHECK(diagnostic.to_text() == "materials.urea.price_per_t: error: odd");
    diagnostic.path.clear();
    diagnostic.severity = Severity::warning;
    CHECK(diagnostic.to_text() == "warning: odd");
  }

  TEST_CASE("errors are sorted by position and keep their notes") {
    const InputError error({at(9, 1, "third"), at(2, 7, "first"),
                            at(20, 1, "of the first", Severity::note), at(2, 8, "second")});
    REQUIRE(error.diagnostics().size() == 4);
    CHECK(error.diagnostics()[0].message == "first");
    CHECK(error.diagnostics()[1].message == "of the first");
    CHECK(error.diagnostics()[2].message == "second");
    CHECK(error.diagnostics()[3].message == "third");
    CHECK(error.error_count() == 3);
  }

  TEST_CASE("at most fifty are shown and the rest is counted") {
    std::vector<Diagnostic> many;
    for (int i = 60; i > 0; --i) many.push_back(at(i, 1, "odd"));
    const InputError error(many);
    REQUIRE(error.diagnostics().size() == 51);
    CHECK(error.diagnostics()[0].place.line == 1);
    CHECK(error.diagnostics()[49].place.line == 50);
    CHECK(error.diagnostics()[50].to_text() ==
          "note: 10 more errors are not shown; mend these first");
    CHECK(error.error_count() == 60);
    const std::string text = error.to_text();
    CHECK(text.substr(text.rfind("60 errors")) == "60 errors; nothing was solved\n");
  }

  TEST_CASE("fifty errors are all shown") {
    std::vector<Diagnostic> many;
    for (int i = 1; i <= 50; ++i) many.push_back(at(i, 1, "odd"));
    CHECK(InputError(many).diagnostics().size() == 50);
  }

  TEST_CASE("an uncaught input error says everything") {
    const InputError error({at(9, 1, "odd")});
    const std::runtime_error& base = error;
    CHECK(std::string(base.what()) == "spring.yaml:9:1: error: odd\n1 error; nothing was solved\n");
  }

  TEST_CASE("a place is true once it has a line") {
    CHECK_FALSE(leastwise::Place{});
    CHECK_FALSE(leastwise::Place{"spring.yaml", 0, 0, 1});
    CHECK(leastwise::Place{"spring.yaml", 1, 1, 1});
  }

  TEST_CASE("note levels have names") {
    CHECK(leastwise::to_string(leastwise::NoteLevel::info) == "info");
    CHECK(leastwise::to_string(leastwise::NoteLevel::caution) == "caution");
    CHECK(leastwise::to_string(leastwise::NoteLevel::warning) == "warning");
  }

  TEST_CASE("each code of a note has a spelling of its own, which leads back to it") {
    const auto last = static_cast<int>(leastwise::NoteCode::uniformity_unusual);
    for (int i = 0; i <= last; ++i) {
      const auto code = static_cast<leastwise::NoteCode>(i);
      CHECK_FALSE(leastwise::to_string(code).empty());
      CHECK(leastwise::note_code(leastwise::to_string(code)) == code);
    }
    CHECK_FALSE(leastwise::note_code("no-such-code"));
  }
}
