#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <sstream>
#include <string>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

// Materials, families, properties and money may have any name: none of them is read for a meaning.

namespace {

/// The page of the answer with single blanks and no line ends.
std::string page_of(const ScenarioDraft& draft) {
  std::istringstream words(to_text(formulate(Scenario(draft))));
  std::string page;
  for (std::string word; words >> word;) page += word + " ";
  return page;
}

void check_said(const ScenarioDraft& draft, const std::string& sentence) {
  const std::string page = page_of(draft);
  CHECK_MESSAGE(page.find(sentence) != std::string::npos, page);
}

/// N comes from `x / y`, K2O from `z`, which must stay apart: no blend has both.
ScenarioDraft two_families() {
  ScenarioDraft d;
  d.materials = {stated("a", 455, {{"N", 46}}), stated("b", 395, {{"K2O", 60}}),
                 stated("fill", 45, {{"S", 1}})};
  d.materials[0].family = "x / y";
  d.materials[1].family = "z";
  d.grade_percent = {{"N", at_least(20)}, {"K2O", at_least(10)}};
  d.incompatible = {{"x / y", "z"}};
  return d;
}

}  // namespace

TEST_SUITE("names of any kind") {
  TEST_CASE("families with a slash in their name are said whole") {
    check_said(two_families(), "x / y and z never in one blend");
  }

  TEST_CASE("a ratio of names with a colon says which is held against which") {
    ScenarioDraft d;
    d.materials = {stated("urea", 455, {{"N", 46}, {"a:b", 2}, {"c", 1}}),
                   stated("fill", 45, {{"N", 1}, {"a:b", 2}, {"c", 1}})};
    d.grade_percent = {{"N", at_least(20)}};
    d.ratios = {{"a:b", "c", {.max = 1}}};
    check_said(d, "at most 1 kg of a:b for each kg of c");
  }

  TEST_CASE("a currency with `per` in its name is money to its end") {
    ScenarioDraft d;
    d.currency = "cents per dollar";
    d.materials = {stated("urea", 455, {{"N", 46}}), stated("fill", 45, {{"S", 1}})};
    d.grade_percent = {{"N", at_least(20)}};
    // 1 % more N is 1/46 of a tonne of urea in place of filler: (455 - 45) / 46 = 8.91.
    check_said(d, "+8.91");
    const Formulation answer = formulate(Scenario(d));
    REQUIRE(answer.blend() != nullptr);
    REQUIRE(answer.blend()->binding.size() == 1);
    CHECK(answer.blend()->binding[0].unit == "cents per dollar/t per %");
  }

  TEST_CASE("two ratios whose names read alike are two rules of a conflict") {
    ScenarioDraft d;
    d.materials = {stated("one", 100, {{"N", 10}, {"a:b", 2}, {"c", 1}, {"a", 1}, {"b:c", 2}}),
                   stated("two", 90, {{"N", 10}, {"a:b", 1}, {"c", 2}, {"a", 2}, {"b:c", 1}})};
    d.grade_percent = {{"N", at_least(5)}};
    // In a share s of `one`: a:b / c = (1 + s) / (2 - s) <= 0.8 asks s <= 1/3, and
    // a / b:c = (2 - s) / (1 + s) <= 0.8 asks s >= 2/3.
    d.ratios = {{"a:b", "c", {.max = 0.8}}, {"a", "b:c", {.max = 0.8}}};
    const Formulation answer = formulate(Scenario(d));
    REQUIRE(answer.conflict() != nullptr);
    const auto& rules = answer.conflict()->rules;
    REQUIRE(rules.size() == 2);
    CHECK(rules[0].rule == rules[1].rule);
    CHECK(rules[0].id != rules[1].id);
  }
}
