#include "input/yaml/document.hpp"

#include <doctest/doctest.h>

#include "base/codes.hpp"
#include "input/text_file.hpp"

using leastwise::Document;
using leastwise::Node;

namespace codes = leastwise::codes;

namespace {

Document parse(std::string_view text) {
  const auto file = leastwise::split_text(text);
  return leastwise::parse_document(file.text, file.lines);
}

std::string_view first_code(std::string_view text) {
  const auto document = parse(text);
  return document.problems.empty() ? std::string_view() : document.problems.front().code;
}

}  // namespace

TEST_SUITE("documents") {
  TEST_CASE("keys and values stand where they were written, counted in characters") {
    const auto document = parse("größe: 4\nb: {ü: 'x y', c: \"d\"}\n");
    REQUIRE(document.complete);
    REQUIRE(document.root.entries.size() == 2);
    const auto& first = document.root.entries[0];
    CHECK(first.key.spot.column == 1);
    CHECK(first.key.spot.width == 5);
    CHECK(first.value.spot.line == 1);
    CHECK(first.value.spot.column == 8);
    CHECK(first.value.plain);
    const auto& flow = document.root.entries[1].value;
    REQUIRE(flow.entries.size() == 2);
    CHECK(flow.entries[0].value.spot.column == 8);
    CHECK(flow.entries[0].value.spot.width == 5);
    CHECK_FALSE(flow.entries[0].value.plain);
    CHECK(flow.entries[1].key.spot.column == 15);
  }

  TEST_CASE("an empty value stands at its key") {
    const auto document = parse("a:\nb: ~\nc: 1\n");
    CHECK(document.root.entries[0].value.kind == Node::Kind::nothing);
    CHECK(document.root.entries[0].value.spot.line == 1);
    CHECK(document.root.entries[1].value.spot.line == 2);
  }

  TEST_CASE("repeated keys are both kept for the reader to complain about") {
    CHECK(parse("a: 1\na: 2\n").root.entries.size() == 2);
  }

  TEST_CASE("what could make a text grow or mislead is refused") {
    CHECK(first_code("a: &x 1\nb: *x\n") == codes::yaml_feature);
    CHECK(first_code("a: !!int 3\n") == codes::yaml_feature);
    CHECK(first_code("a: *x\n") == codes::yaml_feature);
    CHECK(first_code("a: 1\n---\nb: 2\n") == codes::second_document);
    CHECK(first_code("a: 1\n...\nb: 2\n") == codes::second_document);
    CHECK(first_code("a:\n\tb: 1\n") == codes::tab_indent);
    CHECK(first_code("# nothing\n") == codes::empty_file);
    CHECK(first_code("---\n...\n") == codes::empty_file);
    CHECK(first_code("a: 'b\n") == codes::syntax);
    CHECK(first_code("a: \"b\n  c\"\n") == codes::syntax);
  }

  TEST_CASE("a bomb of aliases is refused without being unfolded") {
    std::string bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n";
    for (int i = 1; i < 30; ++i) {
      bomb += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [";
      for (int k = 0; k < 10; ++k) bomb += "*a" + std::to_string(i - 1) + ",";
      bomb += "]\n";
    }
    CHECK(first_code(bomb) == codes::yaml_feature);
  }

  TEST_CASE("any depth of nesting is refused without running out of stack") {
    for (const char* opening : {"[", "{a: ", "- ", "? "}) {
      for (const int depth : {21, 1000, 200'000}) {
        CAPTURE(std::string(opening));
        CAPTURE(depth);
        std::string text;
        for (int i = 0; i < depth; ++i) text += opening;
        CHECK(first_code(text) == codes::too_deep);
      }
    }
    std::string indented;
    for (int i = 0; i < 300; ++i) {
      indented += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
    }
    CHECK(first_code(indented) == codes::too_deep);
  }

  TEST_CASE("twenty levels are deep enough and are read") {
    std::string text = "a: ";
    for (int i = 0; i < 19; ++i) text += "[";
    for (int i = 0; i < 19; ++i) text += "]";
    CHECK(parse(text).complete);
  }

  TEST_CASE("directives and document marks around one document do no harm") {
    CHECK(parse("%YAML 1.2\n---\na: 1\n...\n").complete);
  }
}
