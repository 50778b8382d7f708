#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "report/words/rule_words.hpp"
#include "support/generator.hpp"
#include "support/rule_changes.hpp"

// Every rule an answer speaks of is one of the scenario, by value, under whatever names.

using namespace leastwise;
using namespace leastwise::support;

namespace {

bool mentions(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// Checks the rules of one answer and its JSON against the rules of the scenario.
class IdentityCheck {
 public:
  explicit IdentityCheck(const Scenario& scenario) : rules_(rule_ids(scenario)) {}

  void check(const std::string& name, const RuleId& id, std::optional<double> limit,
             const nlohmann::json& json) const {
    CAPTURE(name);
    CHECK(name == to_string(id));
    CHECK_MESSAGE(std::ranges::count(rules_, id) > 0, "no rule of the scenario");
    const std::string words = report::rule_in_words(id, limit, limit_unit(id));
    CHECK(mentions(words, id.subject));
    CHECK(mentions(words, id.object));
    CHECK(json["rule"] == name);
    CHECK(json["kind"] == to_string(id.kind));
    CHECK(text(json["subject"]) == id.subject);
    CHECK(text(json["object"]) == id.object);
    CHECK(text(json["side"]) == (id.side == RuleSide::none ? "" : to_string(id.side)));
  }

 private:
  static std::string text(const nlohmann::json& value) {
    return value.is_null() ? std::string() : value.get<std::string>();
  }

  std::vector<RuleId> rules_;
};

}  // namespace

TEST_SUITE("identity") {
  TEST_CASE("each rule of an answer is a rule of the scenario, whatever its names") {
    int binding = 0;
    int conflicting = 0;
    for (std::uint64_t seed = 70'000; seed < 70'300; ++seed) {
      CAPTURE(seed);
      const Scenario scenario =
          random_scenario(seed, {.either_or = seed % 2 == 0, .sabotage = 0.4});
      const IdentityCheck identity(scenario);
      const Formulation answer = formulate(scenario);
      const auto json = nlohmann::json::parse(to_json(answer));
      if (const Blend* blend = answer.blend()) {
        for (std::size_t i = 0; i < blend->binding.size(); ++i, ++binding) {
          const BindingRule& rule = blend->binding[i];
          identity.check(rule.rule, rule.id, rule.limit, json["binding"][i]);
          CHECK(rule.unit == to_string(rule.price_unit));
          CHECK(rule.price_unit.per == limit_unit(rule.id));
          CHECK(rule.price_unit.money.starts_with(scenario.currency()));
        }
      } else if (const Conflict* conflict = answer.conflict()) {
        for (std::size_t i = 0; i < conflict->rules.size(); ++i, ++conflicting) {
          const ConflictingRule& rule = conflict->rules[i];
          identity.check(rule.rule, rule.id, rule.limit, json["conflict"][i]);
        }
        for (std::size_t i = 0; i < conflict->nearest.size(); ++i) {
          const Change& change = conflict->nearest[i];
          identity.check(change.rule, change.id, change.from, json["nearest"][i]);
        }
      }
    }
    CHECK(binding > 500);
    CHECK(conflicting > 100);
  }
}
