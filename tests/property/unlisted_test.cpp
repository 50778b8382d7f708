// Scenarios with round numbers, whose optima are often degenerate: what a report says of each rule,
// and of those it does not list, held against solves beside the limit.
#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "property/tiny_draft.hpp"
#include "support/answers.hpp"
#include "support/audit.hpp"
#include "support/rule_changes.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// More for a longer look:  LEASTWISE_ROUND_SCENARIOS=1000 property_tests -ts=round_numbers
std::uint64_t round_scenarios() {
  const char* text = std::getenv("LEASTWISE_ROUND_SCENARIOS");
  return text == nullptr ? 150 : std::strtoull(text, nullptr, 10);
}

struct Beside {
  const ScenarioDraft& draft;
  double cost = 0;
  int solved = 0;

  /// Holds the price stated for one side, 0 for a rule that is not listed, against a solve there.
  void check(const RuleId& rule, double limit, double direction, const Known<double>& price) {
    const double step = direction * 1e-5 * limit;
    const auto reply = reply_to(with_limit(draft, rule, limit + step));
    if (reply.outcome == PeerOutcome::refused || reply.outcome == PeerOutcome::stopped) return;
    ++solved;
    const std::string name = to_string(rule);
    CAPTURE(name);
    CAPTURE(direction);
    REQUIRE(price.is_computed());
    if (price.is_none()) {
      CHECK(reply.outcome == PeerOutcome::impossible);
      return;
    }
    CHECK(reply.possible());
    const double slope = (reply.cost - cost) / step;
    const double noise = 1e-9 * std::max(1.0, std::fabs(cost)) / std::fabs(step);
    CHECK(std::fabs(slope - *price) <= noise + 1e-3 * std::fabs(*price) + 1e-6);
  }
};

}  // namespace

TEST_SUITE("round_numbers") {
  TEST_CASE("each rule costs what is said on either side, and an unlisted rule costs nothing") {
    int listed = 0;
    int unlisted = 0;
    for (std::uint64_t seed = 0; seed < round_scenarios(); ++seed) {
      const auto draft = tiny_draft(seed);
      const Scenario scenario(draft);
      const auto answer = formulate(scenario);
      const auto* blend = answer.blend();
      if (blend == nullptr) continue;
      CAPTURE(seed);
      CHECK(blend->binding_complete);
      Beside beside{draft, cost_of(*blend)};
      for (const auto& id : rule_ids(scenario)) {
        if (id.kind == RuleKind::minimum_if_used || id.kind == RuleKind::bins) continue;
        const double limit = limit_of(draft, id).value_or(0);
        if (limit <= 0) continue;
        const auto rule = std::find_if(blend->binding.begin(), blend->binding.end(),
                                       [&](const BindingRule& r) { return r.id == id; });
        const bool is_listed = rule != blend->binding.end();
        ++(is_listed ? listed : unlisted);
        beside.check(id, limit, -1, is_listed ? rule->price_below : Known(0.0));
        beside.check(id, limit, 1, is_listed ? rule->price_above : Known(0.0));
      }
    }
    MESSAGE(listed, " listed rules, ", unlisted, " others");
    CHECK(listed > 50);
    CHECK(unlisted > 50);
  }

  TEST_CASE("a compound that meets three minima at once shows the price of each") {
    ScenarioDraft draft;
    const auto good = [](const char* name, std::vector<Content> contents, double price) {
      MaterialDraft material;
      material.name = name;
      material.form = Form::granule;
      material.contains_percent = std::move(contents);
      material.price_per_t = price;
      return material;
    };
    draft.materials = {good("compound", {{"N", 15}, {"P2O5", 15}, {"K2O", 15}}, 480),
                       good("sand", {}, 40), good("potash", {{"K2O", 60}}, 390),
                       good("phosphate", {{"P2O5", 46}}, 495)};
    draft.grade_percent = {{"N", {.min = 9}}, {"P2O5", {.min = 9}}, {"K2O", {.min = 9}}};
    const auto answer = formulate(Scenario(draft));
    REQUIRE(answer.blend());
    CHECK(answer.blend()->binding.size() == 3);
    // One point more of K2O is 10 kg of it: 16.667 kg of potash in place of sand.
    for (const auto& rule : answer.blend()->binding)
      if (rule.rule == "grade K2O min") {
        CHECK(rule.price_above.value() == doctest::Approx(10 / 0.6 * (390 - 40) / 1000));
        CHECK(rule.price_below.value() == doctest::Approx(0));
      }
  }
}
