#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <cmath>
#include <set>
#include <string>

#include "property/exact_optimum.hpp"
#include "property/tiny_draft.hpp"
#include "support/audit.hpp"
#include "support/rule_changes.hpp"

// Tiny scenarios against exact rational arithmetic: every choice of materials, every vertex.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::uint64_t oracle_scenarios = 400;

/// A draft that asks for nothing any more is met by spreading nothing, at no cost.
std::optional<Rational> exact_of(const ScenarioDraft& draft) {
  try {
    return exact_optimum(read(Scenario(draft)));
  } catch (const InputError& error) {
    REQUIRE(error.diagnostics().front().code == "nothing-asked");
    return Rational(0);
  }
}

/// True when moving every limit by a billionth of itself turns the verdict.
bool borderline(const Reading& reading) {
  const Rational slack(1, 1'000'000'000);
  return exact_optimum(reading, slack).has_value() != exact_optimum(reading, -slack).has_value();
}

void check_shadow_price(const Scenario& scenario, const Rational& cost, const BindingRule& rule) {
  CAPTURE(rule.rule);
  CAPTURE(rule.shadow_price);
  const Rational step = Rational(1) / (1ULL << 30U) * std::max(1.0, std::fabs(rule.limit));
  const double h = static_cast<double>(step);
  const auto slope = [&](double to) -> std::optional<double> {
    const auto moved = exact_of(with_limit(scenario.draft(), rule.id, to));
    if (!moved) return {};
    return static_cast<double>((*moved - cost) / (Rational(to) - Rational(rule.limit)));
  };
  const bool whole = rule.id == bins_rule();
  if (whole) return;
  const auto above = slope(rule.limit + h);
  const auto below = slope(rule.limit - h);
  const double size = std::max({1e-3, std::fabs(rule.shadow_price)});
  const auto same = [&](double a, double b) { return std::fabs(a - b) <= 2e-6 * size; };
  CHECK(known_sides(rule) == KnownSides::both);
  if (rule.unique == true) {
    if (above) CHECK_MESSAGE(same(*above, rule.shadow_price), "slope above ", *above);
    if (below) CHECK_MESSAGE(same(*below, rule.shadow_price), "slope below ", *below);
    return;
  }
  CHECK(rule.price_above.has_value() == above.has_value());
  CHECK(rule.price_below.has_value() == below.has_value());
  if (above && rule.price_above) CHECK_MESSAGE(same(*above, *rule.price_above), "above ", *above);
  if (below && rule.price_below) CHECK_MESSAGE(same(*below, *rule.price_below), "below ", *below);
}

void check_conflict(const Scenario& scenario, const Conflict& conflict) {
  std::set<RuleId> names;
  for (const ConflictingRule& rule : conflict.rules) names.insert(rule.id);
  CHECK_FALSE(names.empty());
  std::string listed;
  for (const RuleId& name : names) listed += to_string(name) + "; ";
  CAPTURE(listed);
  const Reading reading = read(scenario);
  const Reading named = restricted_to(reading, names);
  CHECK_MESSAGE((!exact_optimum(named) || borderline(named)), "the rules named allow a blend");
  for (const RuleId& name : names) {
    std::set<RuleId> others = names;
    others.erase(name);
    CHECK_MESSAGE(exact_optimum(restricted_to(reading, others)).has_value(),
                  "still impossible without ", to_string(name));
  }
}

}  // namespace

TEST_SUITE("oracle") {
  TEST_CASE("cost, feasibility and conflict agree with exact arithmetic on tiny scenarios") {
    int optimal = 0, infeasible = 0;
    for (std::uint64_t seed = 1; seed <= oracle_scenarios; ++seed) {
      CAPTURE(seed);
      const Scenario scenario(tiny_draft(seed));
      const Reading reading = read(scenario);
      const Formulation answer = formulate(scenario);
      const std::optional<Rational> exact = exact_optimum(reading);
      REQUIRE(answer.stopped() == nullptr);
      if (exact.has_value() != (answer.blend() != nullptr)) {
        CHECK_MESSAGE(borderline(reading), "the verdict is wrong: exact arithmetic says ",
                      exact ? "possible" : "impossible");
        continue;
      }
      if (const Blend* blend = answer.blend()) {
        ++optimal;
        for (const std::string& contradiction : contradictions(scenario, *blend))
          FAIL_CHECK(contradiction);
        const double cost = static_cast<double>(*exact);
        CHECK(std::fabs(cost_of(*blend) - cost) <= 1e-9 * std::max(1e-3, std::fabs(cost)));
        for (const BindingRule& rule : blend->binding) check_shadow_price(scenario, *exact, rule);
      } else {
        ++infeasible;
        CHECK(answer.conflict()->irreducible);
        check_conflict(scenario, *answer.conflict());
      }
    }
    MESSAGE(optimal, " blends, ", infeasible, " conflicts");
    CHECK(optimal > static_cast<int>(oracle_scenarios) / 4);
    CHECK(infeasible > static_cast<int>(oracle_scenarios) / 10);
  }
}
