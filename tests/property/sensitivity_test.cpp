#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <string>

#include "property/tiny_draft.hpp"
#include "support/answers.hpp"
#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/rule_changes.hpp"

// Shadow prices, their intervals, entry prices and exclusion costs against solving again.

using namespace leastwise;
using namespace leastwise::support;

namespace {

// More of them:  LEASTWISE_SENSITIVITY_SCENARIOS=3000 property_tests -ts=sensitivity
std::uint64_t scenarios_asked() {
  const char* text = std::getenv("LEASTWISE_SENSITIVITY_SCENARIOS");
  return text == nullptr ? 120 : std::strtoull(text, nullptr, 10);
}

struct ChecksMade {
  int slopes = 0, insides = 0, outsides = 0, entries = 0, never = 0, exclusions = 0;
};

/// A limit that moves a row's constant, not its coefficients: cost is linear in it.
bool moves_only_a_constant(const Scenario& scenario, const RuleId& rule) {
  if (rule.kind == RuleKind::rate || rule.kind == RuleKind::total) return true;
  if (scenario.basis() == Basis::per_tonne)
    return rule.kind != RuleKind::ratio && rule.kind != RuleKind::coating;
  return rule.kind == RuleKind::stock && scenario.make_hectares().has_value();
}

class PriceCheck {
 public:
  PriceCheck(const Scenario& scenario, const Blend& blend, const BindingRule& rule,
             ChecksMade& counts)
      : scenario_(scenario), rule_(rule), counts_(counts), cost_(cost_of(blend)) {}

  void run() {
    CHECK(limit_of(scenario_.draft(), rule_.id).value() == doctest::Approx(rule_.limit));
    if (rule_.id == RuleId{.kind = RuleKind::bins}) return check_one_more_bin();
    check_slopes();
    check_inside();
    check_outside();
  }

 private:
  [[nodiscard]] Reply at(double limit) const {
    if (std::fabs(limit) < 1e-9 * size()) limit = 0;  // an end at nothing, but for rounding
    Reply reply = reply_to(with_limit(scenario_.draft(), rule_.id, limit));
    if (reply.outcome == PeerOutcome::stopped)
      FAIL_CHECK(reply.answer->stopped()->detail, " at limit ", limit);
    return reply;
  }
  [[nodiscard]] static bool silent(const Reply& reply) {
    return reply.outcome == PeerOutcome::refused || reply.outcome == PeerOutcome::stopped;
  }
  [[nodiscard]] double size() const { return rule_.limit == 0 ? 0.1 : std::fabs(rule_.limit); }
  /// Error of a difference quotient over `step`: rounding of two costs.
  [[nodiscard]] double noise(double step) const {
    return 1e-10 * std::max(1.0, std::fabs(cost_)) / std::fabs(step);
  }

  /// Bins come whole: the price is what one more of them saves.
  void check_one_more_bin() {
    const Reply more = at(rule_.limit + 1);
    REQUIRE(more.outcome == PeerOutcome::blend);
    CHECK(more.cost - cost_ == doctest::Approx(rule_.shadow_price));
    ++counts_.slopes;
  }

  void check_slopes() {
    for (const double direction : {-1.0, 1.0}) {
      const auto& stated = direction < 0 ? rule_.price_below : rule_.price_above;
      const double step = direction * 1e-5 * size();
      const Reply moved = at(rule_.limit + step);
      if (silent(moved)) continue;
      CAPTURE(direction);
      if (moved.outcome == PeerOutcome::impossible) {
        CHECK(stated.is_none());
        continue;
      }
      const double slope = (moved.cost - cost_) / step;
      CAPTURE(slope);
      // Curvature within the step, for limits that move coefficients.
      const double tolerance = noise(step) + 1e-4 * std::fabs(slope) + 1e-9;
      CHECK_MESSAGE(stated.has_value(), "a blend exists there, but no price is stated");
      if (!stated.has_value()) continue;
      if (end_within(step)) continue;  // the next breakpoint lies inside the step
      CHECK(std::fabs(*stated - slope) <= tolerance);
      if (rule_.unique == true) CHECK(std::fabs(rule_.shadow_price - slope) <= tolerance);
      ++counts_.slopes;
    }
  }

  [[nodiscard]] bool end_within(double step) const {
    const auto& end = step < 0 ? rule_.holds_from : rule_.holds_to;
    return end && std::fabs(*end - rule_.limit) < std::fabs(step) && *end != rule_.limit;
  }

  /// Within [from, to] cost is linear in the limit, or t / change of cost is linear in the move t
  /// where the limit moves a row's coefficients.
  void check_inside() {
    for (const double direction : {-1.0, 1.0}) {
      const auto& end = direction < 0 ? rule_.holds_from : rule_.holds_to;
      const double reach = end ? std::fabs(*end - rule_.limit) : size() * 0.5;
      if (!end.is_computed() || reach < 1e-6 * size() || rule_.shadow_price == 0) continue;
      const auto change = [&](double part) -> std::optional<double> {
        const Reply moved = at(rule_.limit + direction * reach * part);
        if (silent(moved)) return {};
        CAPTURE(part);
        CHECK_MESSAGE(moved.possible(), "no blend inside the interval");
        if (!moved.possible()) return {};
        return moved.cost - cost_;
      };
      CAPTURE(direction);
      CAPTURE(reach);
      if (moves_only_a_constant(scenario_, rule_.id)) {
        for (const double part : {0.4, 0.999}) {
          const double expected = rule_.shadow_price * direction * reach * part;
          const auto got = change(part);
          if (got) CHECK(std::fabs(*got - expected) <= 1e-6 * std::fabs(expected) + 1e-8);
        }
      } else {
        const auto half = change(0.5), whole = change(0.999);
        if (!half || !whole || std::fabs(*half) < 1e-5) continue;
        const double from_half = (reach * 0.5) / std::fabs(*half);
        const double from_whole = (reach * 0.999) / std::fabs(*whole);
        const double at_limit = 1 / std::fabs(rule_.shadow_price);
        const double expected = at_limit + (from_half - at_limit) * 0.999 / 0.5;
        CHECK(std::fabs(from_whole - expected) <= 1e-4 * expected);
      }
      ++counts_.insides;
    }
  }

  /// Just beyond an end the price differs or the blend stops to exist.
  void check_outside() {
    if (!moves_only_a_constant(scenario_, rule_.id)) return;
    for (const double direction : {-1.0, 1.0}) {
      const auto& end = direction < 0 ? rule_.holds_from : rule_.holds_to;
      if (!end) continue;
      const double step = direction * 1e-3 * size();
      const Reply edge = at(*end), beyond = at(*end + step);
      if (silent(edge) || silent(beyond)) continue;
      ++counts_.outsides;
      if (!edge.possible() || !beyond.possible()) continue;
      const double slope = (beyond.cost - edge.cost) / step;
      CAPTURE(direction);
      CAPTURE(*end);
      CAPTURE(slope);
      // Where the end is the limit itself, the shadow price may be that of either side.
      if (rule_.unique == true || *end != rule_.limit)
        CHECK(std::fabs(slope - rule_.shadow_price) > noise(step));
    }
  }

  const Scenario& scenario_;
  const BindingRule& rule_;
  ChecksMade& counts_;
  double cost_ = 0;
};

void check_entry_price(const Scenario& scenario, const Blend& blend, const UnusedMaterial& unused,
                       ChecksMade& counts) {
  CAPTURE(unused.material);
  CAPTURE(unused.why);
  const double cost = cost_of(blend);
  const double slack = 1e-9 * std::max(1.0, std::fabs(cost));
  const auto cost_at = [&](double price) -> std::optional<Formulation> {
    try {
      return formulate(scenario.with_price(unused.material, price), {.intervals = false});
    } catch (const std::invalid_argument&) {
      return {};  // a negative price without a bounded total
    }
  };
  if (unused.enters_below_price_per_t.is_none()) {
    const auto gift = cost_at(0);
    REQUIRE((gift && gift->blend() != nullptr));
    CHECK_MESSAGE(cost_of(*gift->blend()) >= cost - slack, "said to enter at no price");
    ++counts.never;
    return;
  }
  const double entry = *unused.enters_below_price_per_t;
  CAPTURE(entry);
  const double step = 1e-3 * std::max(1.0, std::fabs(entry));
  if (const auto below = cost_at(entry - step)) {
    REQUIRE(below->blend() != nullptr);
    const auto& portions = below->blend()->portions;
    const bool used = std::any_of(portions.begin(), portions.end(), [&](const Portion& portion) {
      return portion.material == unused.material;
    });
    CHECK((used || cost_of(*below->blend()) < cost - slack));
    if (entry - step < unused.price_per_t) CHECK(used);
  }
  const auto above = cost_at(entry + step);
  if (above && entry + step <= unused.price_per_t + 2 * step) {
    REQUIRE(above->blend() != nullptr);
    CHECK(std::fabs(cost_of(*above->blend()) - cost) <= 10 * slack);
  }
  ++counts.entries;
}

void check_exclusions(const Scenario& scenario, const Blend& blend, ChecksMade& counts) {
  const double cost = cost_of(blend);
  for (const Exclusion& pair : scenario.exclusions()) {
    CAPTURE(pair.family_a);
    CAPTURE(pair.family_b);
    const Reply lifted = reply_to(with_pair_lifted(scenario.draft(), pair.family_a, pair.family_b));
    if (lifted.outcome == PeerOutcome::refused) continue;  // a danger that cannot be lifted
    REQUIRE(lifted.outcome == PeerOutcome::blend);
    const auto stated = std::find_if(
        blend.exclusions.begin(), blend.exclusions.end(), [&](const ExclusionCost& cost_of_pair) {
          return cost_of_pair.family_a == pair.family_a && cost_of_pair.family_b == pair.family_b;
        });
    const double saved = cost - lifted.cost;
    const double tolerance = 1e-7 * std::max(1.0, std::fabs(cost));
    if (stated == blend.exclusions.end()) {
      CHECK(saved <= tolerance);
      continue;
    }
    const double said =
        blend.basis == Basis::per_hectare ? stated->costs_per_ha.value() : stated->costs_per_t;
    CHECK(std::fabs(said - saved) <= tolerance);
    CHECK(stated->reason == pair.reason);
    ++counts.exclusions;
  }
}

/// Holds all that an answer says of prices against solving again.
void check_answer(const Scenario& scenario, ChecksMade& counts) {
  const Formulation answer = formulate(scenario);
  const Blend* blend = answer.blend();
  if (blend == nullptr) return;
  for (const BindingRule& rule : blend->binding) {
    if (rule.id.kind == RuleKind::ceiling) continue;  // no draft states its limit
    CAPTURE(rule.rule);
    CAPTURE(rule.limit);
    CAPTURE(rule.shadow_price);
    PriceCheck(scenario, *blend, rule, counts).run();
  }
  for (const UnusedMaterial& unused : blend->unused)
    check_entry_price(scenario, *blend, unused, counts);
  check_exclusions(scenario, *blend, counts);
}

}  // namespace

TEST_SUITE("sensitivity") {
  TEST_CASE("prices and intervals are those found by solving again") {
    ChecksMade counts;
    for (std::uint64_t seed = 30'000; seed < 30'000 + scenarios_asked(); ++seed) {
      CAPTURE(seed);
      const ScenarioDraft draft = random_draft(seed, {.materials = 10 + static_cast<int>(seed % 12),
                                                      .either_or = seed % 3 != 0,
                                                      .sabotage = 0});
      check_answer(Scenario(draft), counts);
    }
    std::cerr << counts.slopes << " slopes, " << counts.insides << " insides, " << counts.outsides
              << " outsides, " << counts.entries << " entry prices, " << counts.never
              << " never entering, " << counts.exclusions << " exclusions\n";
    CHECK(counts.slopes > 200);
    CHECK(counts.insides > 100);
    CHECK(counts.outsides > 50);
    CHECK(counts.entries > 500);
    CHECK(counts.exclusions > 10);
  }
}

// Round numbers make degenerate optima, where intervals end at once and prices have two sides.
TEST_SUITE("round_numbers") {
  TEST_CASE("prices and intervals of degenerate optima are those found by solving again") {
    const char* more = std::getenv("LEASTWISE_ROUND_SCENARIOS");
    const std::uint64_t scenarios = more == nullptr ? 150 : std::strtoull(more, nullptr, 10);
    ChecksMade counts;
    for (std::uint64_t seed = 0; seed < scenarios; ++seed) {
      CAPTURE(seed);
      check_answer(Scenario(tiny_draft(seed)), counts);
    }
    std::cerr << "round numbers: " << counts.slopes << " slopes, " << counts.insides << " insides, "
              << counts.outsides << " outsides, " << counts.entries << " entry prices\n";
    CHECK(counts.slopes > 100);
    CHECK(counts.insides > 50);
    CHECK(counts.outsides > 30);
    CHECK(counts.entries > 30);
  }
}
