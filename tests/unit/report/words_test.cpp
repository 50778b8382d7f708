#include <doctest/doctest.h>
#include <leastwise/version.hpp>

#include "report/words/price_table.hpp"
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
  binding.price_unit = {money, limit_unit(id)};
  binding.unit = to_string(binding.price_unit);
  binding.holds_from = binding.holds_to = Known<double>::none();
  binding.price_below = binding.price_above = price;
  binding.unique = true;
  return binding;
}

/// The words for a rule in the unit of its kind.
std::string words(const RuleId& id, std::optional<double> limit) {
  return rule_in_words(id, limit, limit_unit(id));
}

const RuleId n_min{RuleKind::rate, "N", {}, RuleSide::min};
const RuleId k_exactly{RuleKind::rate, "K2O", {}, RuleSide::exactly};
const RuleId cl_max{RuleKind::grade, "Cl", {}, RuleSide::max};
const RuleId total_max{RuleKind::total, {}, {}, RuleSide::max};
const RuleId ammonium{RuleKind::ratio, "N-ammonium", "N", RuleSide::min};
const RuleId bins{RuleKind::bins, {}, {}, RuleSide::none};

Blend blend_with(BindingRule rule) {
  Blend blend;
  blend.currency = "USD";
  blend.binding = {std::move(rule)};
  blend.binding_complete = true;
  return blend;
}

/// The cells of the rule's row in the table of prices.
std::vector<std::string> row_of(const BindingRule& rule) {
  return price_table(blend_with(rule)).rows().front();
}

std::string page_of_rule(const BindingRule& rule) {
  Page page;
  write_binding(page, blend_with(rule));
  return page.text({.width = 1000});
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
  CHECK(words(n_min, 60) == "at least 60 kg/ha of N");
  CHECK(words(k_exactly, 30) == "exactly 30 kg/ha of K2O");
  CHECK(words(cl_max, 4) == "at most 4 % Cl in the product");
  CHECK(words(ammonium, 0.3) == "at least 0.3 kg of N-ammonium for each kg of N");
  CHECK(words(total_max, 400) == "at most 400 kg/ha in total");
  CHECK(words({RuleKind::share, "urea", {}, RuleSide::max}, 60) ==
        "at most 60 % urea in the product");
  CHECK(words({RuleKind::grade, "salt-index", {}, RuleSide::max}, 40) ==
        "salt-index of the product at most 40");
  CHECK(words({RuleKind::rate, "N + K2O", {}, RuleSide::max}, 20) == "at most 20 kg/ha of N + K2O");
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
}

TEST_CASE("a unique price costs up what it saves down, and holds in an interval") {
  BindingRule rule = binding(n_min, 60, 1.12, "USD/ha");
  rule.holds_from = 58.2;
  rule.place = {"field.yaml", 12, 3, 1};
  CHECK(row_of(rule) == std::vector<std::string>{"rate N min", "12", "60 kg/ha", "+1.12", "-1.12",
                                                 "58.2", "-", ""});
  rule.holds_to = {};
  CHECK(row_of(rule)[6] == "?");
}

TEST_CASE("a maximum saves when it is raised") {
  const auto row = row_of(binding(total_max, 250, -0.4, "USD/ha"));
  CHECK(row[0] == "total max");
  CHECK(row[3] == "-0.400");
  CHECK(row[4] == "+0.400");
}

TEST_CASE("on a kink more and less have prices of their own, or leave no blend") {
  BindingRule rule = binding(k_exactly, 30, 0.5, "USD/ha");
  rule.unique = false;
  rule.price_below = 0.5;
  rule.price_above = 2.0;
  CHECK(row_of(rule)[3] == "+2.00");
  CHECK(row_of(rule)[4] == "-0.500");
  CHECK(row_of(rule)[5].empty());
  rule.price_above = Known<double>::none();
  CHECK(row_of(rule)[3] == "no blend");
  CHECK(page_of_rule(rule).find("the recipe changes exactly at the limit") != std::string::npos);
}

TEST_CASE("of a side that was not looked at nothing is said") {
  BindingRule rule = binding(k_exactly, 30, 0.5, "USD/ha");
  rule.unique = {};
  rule.price_below = rule.price_above = {};
  CHECK(row_of(rule)[3] == "?");
  rule.price_below = 0.25;
  CHECK(row_of(rule)[4] == "-0.250");
  CHECK(page_of_rule(rule).find("\"?\" was not computed.") != std::string::npos);
}

TEST_CASE("a bin more says nothing of a bin less") {
  const auto row = row_of(binding(bins, 3, -4.2, "USD/ha"));
  CHECK(row[2] == "3 bins");
  CHECK(row[3] == "-4.20");
  CHECK(row[4].empty());
}

TEST_CASE("what the rules pay for has a line each, and the cost below") {
  Blend blend = blend_with(binding({RuleKind::grade, "N", {}, RuleSide::min}, 10, 8.75, "USD/t"));
  blend.cost_per_t = 137.5;
  blend.cost_parts = {{"grade N min", {}, 100, 0.875, 87.5}, {"mass", {}, 1000, 0.05, 50}};
  blend.cost_parts_add_up = true;
  const Table table = price_table(blend);
  REQUIRE(table.rows().size() == 3);
  CHECK(table.rows()[0].back() == "87.50");
  CHECK(table.rows()[1] ==
        std::vector<std::string>{"mass, whatever it holds", "", "", "", "", "", "", "50.00"});
  CHECK(table.rows()[2].back() == "137.50");
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
