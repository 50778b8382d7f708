#include <doctest/doctest.h>
#include <leastwise/version.hpp>

#include "report/words/price_sentences.hpp"
#include "report/words/rule_words.hpp"
#include "report/words/safety.hpp"

using namespace leastwise;
using namespace leastwise::report;

namespace {

BindingRule binding(const RuleId& id, double limit, double price, const std::string& money) {
  BindingRule binding;
  binding.rule = to_string(id);
  binding.id = id;
  binding.limit = limit;
  binding.shadow_price = price;
  binding.price_unit = {money, limit_unit(id.kind)};
  binding.unit = to_string(binding.price_unit);
  binding.holds_from = binding.holds_to = Known<double>::none();
  binding.price_below = binding.price_above = price;
  binding.unique = true;
  return binding;
}

/// The words for a rule in the unit of its kind.
std::string words(const RuleId& id, std::optional<double> limit) {
  return rule_in_words(id, limit, limit_unit(id.kind));
}

const RuleId n_min{RuleKind::rate, "N", {}, RuleSide::min};
const RuleId k_exactly{RuleKind::rate, "K2O", {}, RuleSide::exactly};
const RuleId cl_max{RuleKind::grade, "Cl", {}, RuleSide::max};
const RuleId total_max{RuleKind::total, {}, {}, RuleSide::max};
const RuleId ammonium{RuleKind::ratio, "N-ammonium", "N", RuleSide::min};
const RuleId bins{RuleKind::bins, {}, {}, RuleSide::none};

bool mentions(const std::vector<std::string>& lines, std::string_view word) {
  for (const std::string& line : lines) {
    if (line.find(word) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_SUITE_BEGIN("words");

TEST_CASE("rules are said in words") {
  CHECK(words(n_min, 60) == "at least 60 kg/ha of N");
  CHECK(words(k_exactly, 30) == "exactly 30 kg/ha of K2O");
  CHECK(words(cl_max, 4) == "at most 4 % Cl in the product");
  CHECK(words(ammonium, 0.3) == "at least 0.3 kg of N-ammonium for each kg of N");
  CHECK(words(total_max, 400) == "at most 400 kg/ha in total");
  CHECK(words({RuleKind::share, "urea", {}, RuleSide::max}, 60) ==
        "at most 60 % urea in the product");
  CHECK(words({RuleKind::stock, "urea", {}, {}}, 1500) == "at most 1500 kg of urea in stock");
  CHECK(words(bins, 3) == "at most 3 granular materials");
  CHECK(words({RuleKind::minimum_if_used, "sop", {}, {}}, 2.5) ==
        "sop either left out or at least 2.5 % of the product");
  CHECK(words({RuleKind::exclusion, "urea", "ammonium-nitrate", {}}, {}) ==
        "urea and ammonium-nitrate never in one blend");
  CHECK(words({RuleKind::left_out, "urea", {}, {}}, 0) == "urea left out");
}

TEST_CASE("a rule without its limit keeps its name") {
  CHECK(words(n_min, {}) == "rate N min");
  CHECK(words(bins, {}) == "bins");
}

TEST_CASE("names with signs and with the words of reports are said whole") {
  CHECK(words({RuleKind::exclusion, "x / y", "z", {}}, {}) == "x / y and z never in one blend");
  CHECK(words({RuleKind::exclusion, "x", "y / z", {}}, {}) == "x and y / z never in one blend");
  const RuleId ratio{RuleKind::ratio, "a:b", "c", RuleSide::max};
  CHECK(words(ratio, 1) == "at most 1 kg of a:b for each kg of c");
  CHECK(words({RuleKind::rate, "water soluble B min", {}, RuleSide::max}, 2) ==
        "at most 2 kg/ha of water soluble B min");
  CHECK(words({RuleKind::share, "red max", {}, RuleSide::min}, 5) ==
        "at least 5 % red max in the product");
  CHECK(price_in_words(binding(ratio, 0.3, -50, "USD/t")) ==
        "Allowing 0.01 more in the ratio a:b:c saves 0.500 USD/t, 0.01 less costs as much.");
  CHECK(price_in_words(
            binding({RuleKind::grade, "N", {}, RuleSide::min}, 14, 8.91, "cents per dollar/t")) ==
        "Asking for one percentage point more N costs 8.91 cents per dollar/t, one less saves as "
        "much.");
}

TEST_CASE("a unique price holds in both directions") {
  BindingRule rule = binding(n_min, 60, 1.12, "USD/ha");
  rule.holds_from = 58.2;
  rule.holds_to = 63;
  CHECK(price_in_words(rule) ==
        "Asking for one kg/ha more N costs 1.12 USD/ha, one less saves as much. This holds from "
        "58.2 to 63 kg/ha.");
  rule.holds_to = Known<double>::none();
  CHECK(price_in_words(rule).ends_with("This holds from 58.2 kg/ha upwards."));
  rule.holds_to = {};
  CHECK(price_in_words(rule).ends_with(
      "one less saves as much. This holds from 58.2 kg/ha; how far upwards was not looked for."));
  rule.holds_from = {};
  CHECK(price_in_words(rule).ends_with("as much. How far this holds was not looked for."));
  rule.holds_to = 63;
  CHECK(price_in_words(rule).ends_with(
      "This holds up to 63 kg/ha; how far downwards was not looked for."));
}

TEST_CASE("a maximum saves when it is raised") {
  CHECK(price_in_words(binding(total_max, 250, -0.4, "USD/ha")) ==
        "Allowing one kg/ha more in total saves 0.400 USD/ha, one less costs as much.");
}

TEST_CASE("the step of a small limit is a small step") {
  CHECK(price_in_words(binding({RuleKind::rate, "B", {}, RuleSide::min}, 0.3, 9, "USD/ha")) ==
        "Asking for 0.01 kg/ha more B costs 0.0900 USD/ha, 0.01 less saves as much.");
  CHECK(price_in_words(binding(cl_max, 4, -2, "USD/t")) ==
        "Allowing 0.1 percentage points more Cl saves 0.200 USD/t, 0.1 less costs as much.");
  CHECK(price_in_words(binding(ammonium, 0.3, 50, "USD/t")) ==
        "Asking for 0.01 more in the ratio N-ammonium:N costs 0.500 USD/t, 0.01 less saves as "
        "much.");
}

TEST_CASE("on a kink more and less have prices of their own, or leave no blend") {
  BindingRule rule = binding(k_exactly, 30, 0.5, "USD/ha");
  rule.unique = false;
  rule.price_below = 0.5;
  rule.price_above = 2.0;
  CHECK(price_in_words(rule) ==
        "One kg/ha more K2O costs 2.00 USD/ha, one less saves 0.500 USD/ha.");
  rule.price_above = Known<double>::none();
  CHECK(price_in_words(rule) == "One kg/ha more K2O leaves no blend, one less saves 0.500 USD/ha.");
  rule.price_below = Known<double>::none();
  CHECK(price_in_words(rule) == "One kg/ha more K2O leaves no blend, one less leaves no blend.");
}

TEST_CASE("of a side that was not looked at nothing is said") {
  BindingRule rule = binding(k_exactly, 30, 0.5, "USD/ha");
  rule.unique = {};
  rule.price_below = rule.price_above = {};
  CHECK(price_in_words(rule) ==
        "Its price in this blend is 0.500 USD/ha for one kg/ha; whether more and less cost the "
        "same, and how far this holds, was not looked for.");
  rule.price_below = 0.25;
  CHECK(price_in_words(rule) ==
        "One less saves 0.250 USD/ha; what more does was not looked for, nor how far this holds.");
  rule.price_below = {};
  rule.price_above = Known<double>::none();
  CHECK(price_in_words(rule) ==
        "One kg/ha more K2O leaves no blend; what one less does was not looked for, nor how far "
        "this holds.");
}

TEST_CASE("a bin more says nothing of a bin less") {
  CHECK(price_in_words(binding(bins, 3, -4.2, "USD/ha")) ==
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
