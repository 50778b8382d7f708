#include "input/json_document.hpp"

#include <doctest/doctest.h>
#include <leastwise/load.hpp>
#include <leastwise/report.hpp>

#include <string>

using namespace leastwise;

namespace {

Document json_tree(const std::string& text) { return parse_json_document(text, {}); }

const char* const json_order = R"({
	"leastwise": 1,
	"title": "\ud83c\udf3e for \u00fcberfeld",
	"materials": {
		"urea": {"price_per_t": 455},
		"clay-filler": {"price_per_t": 4.5e1}
	},
	"grade_percent": {"N": {"min": 20}}
})";

}  // namespace

TEST_SUITE_BEGIN("json document");

TEST_CASE("a text is JSON when a quoted key follows its brace") {
  CHECK(is_json("{\"a\": 1}"));
  CHECK(is_json(" \n\t{\n  \"a\": 1}"));
  CHECK_FALSE(is_json("{leastwise: 1}"));
  CHECK_FALSE(is_json("leastwise: 1"));
  CHECK_FALSE(is_json("{}"));
  CHECK_FALSE(is_json(""));
}

TEST_CASE("each value of JSON has its spot, counted in characters") {
  const Document document = json_tree("{\"\xc3\xa4\": [1, -2.5e3,\n true], \"b\": null, \"c\": \"x\\\"y\"}");
  REQUIRE(document.complete);
  const auto& entries = document.root.entries;
  REQUIRE(entries.size() == 3);
  CHECK(entries[0].key.text == "\xc3\xa4");
  CHECK(entries[0].key.spot.column == 2);
  const auto& items = entries[0].value.items;
  REQUIRE(items.size() == 3);
  CHECK(items[0].spot.column == 8);
  CHECK(items[1].text == "-2.5e3");
  CHECK(items[1].spot.column == 11);
  CHECK(items[1].spot.width == 6);
  CHECK(items[2].spot.line == 2);
  CHECK(items[2].spot.column == 2);
  CHECK(entries[1].value.kind == Node::Kind::nothing);
  CHECK(entries[2].value.text == "x\"y");
  CHECK_FALSE(entries[2].value.plain);
  CHECK(entries[2].value.spot.width == 6);
}

TEST_CASE("a scenario in JSON is the scenario in YAML") {
  const Scenario json = parse_scenario(json_order);
  const Scenario yaml = parse_scenario(
      "leastwise: 1\ntitle: \xf0\x9f\x8c\xbe for \xc3\xbc" "berfeld\nmaterials: {urea: "
      "{price_per_t: 455}, clay-filler: {price_per_t: 45}}\ngrade_percent: {N: {min: 20}}\n");
  CHECK(json.title() == yaml.title());
  CHECK(json.materials()[1].price_per_t == yaml.materials()[1].price_per_t);
  CHECK(json.grades()[0].limits.min == 20);
  CHECK(json.place_of("materials.urea.price_per_t").line == 5);
  CHECK(json.place_of("materials.urea.price_per_t").column == 27);
}

TEST_CASE("what is not JSON is told where reading ended") {
  const auto problem = [](const std::string& text) {
    const Document document = json_tree(text);
    CHECK_FALSE(document.complete);
    REQUIRE(document.problems.size() == 1);
    return document.problems[0];
  };
  CHECK(problem("{\"a\": 1,}").spot.column == 8);
  CHECK(problem("{\"a\": 1\n \"b\": 2}").spot.line == 2);
  CHECK(problem("{\"a\": NaN}").spot.column == 7);
  CHECK(problem("{\"a\": 1e400}").spot.column == 7);
  CHECK(problem("{\"a\": 1} x").spot.column == 10);
  CHECK(problem("{\"a\": \"\\ud83c\"}").spot.column == 7);
  CHECK(problem("{\"a\": ").message.find("unexpected end of input") != std::string::npos);
  CHECK(problem("{\"a\": " + std::string(40, '[')).code == "too-deep");
}

TEST_CASE("a key that stands twice in JSON, and a number in quotes, are told as in YAML") {
  const auto text_of = [](const std::string& text) {
    try {
      static_cast<void>(parse_scenario(text, "a.json"));
    } catch (const InputError& error) {
      return error.to_text();
    }
    return std::string("accepted");
  };
  CHECK(text_of("{\"leastwise\": 1, \"title\": \"a\", \"title\": \"b\"}").find("a key must stand once") !=
        std::string::npos);
  CHECK(text_of("{\"leastwise\": 1, \"materials\": {\"urea\": {\"price_per_t\": \"455\"}}}")
            .find("a.json:1:56: error: expected a number for price_per_t, found '455'; take the "
                  "quotes off") != std::string::npos);
}

TEST_SUITE_END();
