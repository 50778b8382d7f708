#include <doctest/doctest.h>
#include <leastwise/version.hpp>

#include "report/price_sentences.hpp"
#include "report/rule_words.hpp"
#include "report/safety.hpp"

using namespace leastwise;
using namespace leastwise::report;

namespace {

BindingRule binding(std::string rule, double limit, double price, std::string unit) {
  BindingRule binding;
  binding.rule = std::move(rule);
  binding.limit = limit;
  binding.shadow_price = price;
  binding.unit = std::move(unit);
  return binding;
}

bool mentions(const std::vector<std::string>& lines, std::string_view word) {
  for (const std::string& line : lines) {
    if (line.find(word) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_SUITE_BEGIN("words");

TEST_CASE("rules are said in words") {
  CHECK(rule_in_words("rate N min", 60, "kg/ha") == "at least 60 kg/ha of N");
  CHECK(rule_in_words("rate K2O exactly", 30, "kg/ha") == "exactly 30 kg/ha of K2O");
  CHECK(rule_in_words("grade Cl max", 4, "%") == "at most 4 % Cl in the product");
  CHECK(rule_in_words("ratio N-ammonium:N min", 0.3, "") ==
        "at least 0.3 kg of N-ammonium for each kg of N");
  CHECK(rule_in_words("total max", 400, "kg/ha") == "at most 400 kg/ha in total");
  CHECK(rule_in_words("share urea max", 60, "%") == "at most 60 % urea in the product");
  CHECK(rule_in_words("stock urea", 1500, "kg") == "at most 1500 kg of urea in stock");
  CHECK(rule_in_words("bins", 3, "") == "at most 3 granular materials");
  CHECK(rule_in_words("min if used sop", 2.5, "%") ==
        "sop either left out or at least 2.5 % of the product");
  CHECK(rule_in_words("apart urea / ammonium-nitrate", {}, "") ==
        "urea and ammonium-nitrate never in one blend");
}

TEST_CASE("a rule of an unknown kind keeps its own name") {
  CHECK(rule_in_words("something new", {}, "") == "something new");
  CHECK(rule_in_words("something new", 5, "kg") == "something new (5 kg)");
  CHECK(rule_in_words("rates", 5, "kg") == "rates (5 kg)");
}

TEST_CASE("names with several words and names that look like sides are taken apart rightly") {
  CHECK(parsed_rule("rate water soluble B min").subject == "water soluble B");
  CHECK(parsed_rule("stock red max").subject == "red max");
  CHECK(parsed_rule("stock red max").side == RuleSide::none);
  CHECK(parsed_rule("share max max").subject == "max");
}

TEST_CASE("a unique price holds in both directions") {
  BindingRule rule = binding("rate N min", 60, 1.12, "USD/ha per kg/ha");
  rule.holds_from = 58.2;
  rule.holds_to = 63;
  CHECK(price_in_words(rule) ==
        "Asking for one kg/ha more N costs 1.12 USD/ha, one less saves as much. This holds from "
        "58.2 to 63 kg/ha.");
  rule.holds_to.reset();
  CHECK(price_in_words(rule).ends_with("This holds from 58.2 kg/ha upwards."));
}

TEST_CASE("a maximum saves when it is raised") {
  CHECK(price_in_words(binding("total max", 250, -0.4, "USD/ha per kg/ha")) ==
        "Allowing one kg/ha more in total saves 0.400 USD/ha, one less costs as much.");
}

TEST_CASE("the step of a small limit is a small step") {
  CHECK(price_in_words(binding("rate B min", 0.3, 9, "USD/ha per kg/ha")) ==
        "Asking for 0.01 kg/ha more B costs 0.0900 USD/ha, 0.01 less saves as much.");
  CHECK(price_in_words(binding("grade Cl max", 4, -2, "USD/t per %")) ==
        "Allowing 0.1 percentage points more Cl saves 0.200 USD/t, 0.1 less costs as much.");
  CHECK(price_in_words(binding("ratio N-ammonium:N min", 0.3, 50, "USD/t per 1")) ==
        "Asking for 0.01 more in the ratio N-ammonium:N costs 0.500 USD/t, 0.01 less saves as "
        "much.");
}

TEST_CASE("on a kink more and less have prices of their own, or leave no blend") {
  BindingRule rule = binding("rate K2O exactly", 30, 0.5, "USD/ha per kg/ha");
  rule.unique = false;
  rule.price_below = 0.5;
  rule.price_above = 2.0;
  CHECK(price_in_words(rule) ==
        "One kg/ha more K2O costs 2.00 USD/ha, one less saves 0.500 USD/ha.");
  rule.price_above.reset();
  CHECK(price_in_words(rule) == "One kg/ha more K2O leaves no blend, one less saves 0.500 USD/ha.");
  rule.price_below.reset();
  CHECK(price_in_words(rule) ==
        "One kg/ha more K2O costs 0.500 USD/ha; this is one of several valid prices.");
}

TEST_CASE("a bin more says nothing of a bin less") {
  CHECK(price_in_words(binding("bins", 3, -4.2, "USD/ha per bin")) ==
        "Room for one more granular material saves 4.20 USD/ha.");
}

TEST_CASE("cautions speak of what is in the blend and of nothing else") {
  const std::vector<Portion> granules{{"urea", Form::granule, {}, 1000, 1, {}}};
  const std::vector<Supply> none;
  CHECK_FALSE(mentions(safety_lines(granules, none, {}), "respirator"));
  CHECK(mentions(safety_lines(granules, none, {}), "jar test"));
  CHECK(mentions(safety_lines(granules, none, {}), "planning aids"));

  const std::vector<Portion> coated{{"ammonium-nitrate", Form::granule, {}, 995, 1, {}},
                                    {"boric-acid", Form::powder, {}, 5, 1, {}}};
  const std::vector<Supply> boron{{"B", {}, {}, 0.08, {}, {}}, {"Cu", {}, {}, 0, {}, {}}};
  CHECK(mentions(safety_lines(coated, boron, {}), "respirator"));
  CHECK(mentions(safety_lines(coated, boron, {}), "Boron is toxic"));

  const std::vector<Note> said{
      {NoteLevel::caution, NoteCode::toxic_element, {"B"}, "mind the rate"}};
  CHECK_FALSE(mentions(safety_lines(coated, boron, said), "Boron is toxic"));
  const std::vector<Note> named{{NoteLevel::warning,
                                 NoteCode::family_unknown,
                                 {"map with boron"},
                                 "'map with boron' is new"}};
  CHECK(mentions(safety_lines(coated, boron, named), "Boron is toxic"));
}

TEST_CASE("status and cause have the words the report format fixes") {
  CHECK(to_string(Status::optimal) == "optimal");
  CHECK(to_string(Status::infeasible) == "infeasible");
  CHECK(to_string(Status::stopped) == "stopped");
  CHECK(to_string(StopCause::time_limit) == "time_limit");
  CHECK(to_string(StopCause::cancelled) == "cancelled");
  CHECK(to_string(StopCause::numerical) == "numerical");
}

TEST_CASE("the version is that of the header") {
  CHECK(version() == std::to_string(LEASTWISE_VERSION_MAJOR) + "." +
                         std::to_string(LEASTWISE_VERSION_MINOR) + "." +
                         std::to_string(LEASTWISE_VERSION_PATCH));
}

TEST_SUITE_END();
