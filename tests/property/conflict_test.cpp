#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <set>
#include <sstream>
#include <string>

#include "support/answers.hpp"
#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"
#include "support/rule_changes.hpp"

// What an infeasible scenario is told: the conflict is one, none of it can be spared, and the
// changes named do end it.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::uint64_t scenarios = 900;

struct Counts {
  int conflicts = 0, rules = 0, shortfalls = 0, nearest = 0;
};

/// The limit moved by `amount` towards giving way: a minimum falls, a maximum rises.
double given_way(const std::string& name, double limit, double amount) {
  return parsed_rule(name).side == "min" ? limit - amount : limit + amount;
}

/// True for a limit that may take the value (no negative amounts, no more than all of it).
bool sensible(const std::string& name, double limit) {
  const std::string kind = parsed_rule(name).kind;
  const bool percentage = kind == "grade" || kind == "share" || kind == "coating";
  return limit >= 0 && !(percentage && limit > 100);
}

/// Whether the rules of those names alone allow a blend, judged by a solver that is not ours.
bool possible(const Scenario& scenario, const std::set<std::string>& names) {
  Reading reading = restricted_to(read(scenario), names);
  std::fill(reading.cost_per_kg.begin(), reading.cost_per_kg.end(), 1.0);
  const PeerAnswer answer = solve_with_peer(reading, Peer::glpk);
  REQUIRE(answer.status != PeerStatus::unfinished);
  return answer.status == PeerStatus::optimal;
}

void check_shortfall(const Scenario& scenario, const std::set<std::string>& names,
                     const ConflictingRule& rule, Counts& counts) {
  if (!rule.limit || !rule.shortfall || rule.rule == "bins") return;
  CAPTURE(*rule.limit);
  CAPTURE(*rule.shortfall);
  CHECK(*rule.shortfall > 0);
  CHECK(limit_of(scenario.draft(), rule.rule).value() == doctest::Approx(*rule.limit));
  const bool exactly = parsed_rule(rule.rule).side == "exactly";
  bool tried = false;
  const auto possible_at = [&](double amount) {
    bool any = false;
    for (const double sign : {1.0, -1.0}) {
      if (sign < 0 && !exactly) continue;
      const double limit = given_way(rule.rule, *rule.limit, sign * amount);
      if (!sensible(rule.rule, limit)) continue;
      try {
        const Scenario moved(with_limit(scenario.draft(), rule.rule, limit));
        tried = true;
        any = any || possible(moved, names);
      } catch (const InputError&) {
        continue;  // the limit would cross another one
      }
    }
    return any;
  };
  const double slack = 1e-6 * std::max(std::fabs(*rule.limit), 1e-3);
  const bool enough = possible_at(*rule.shortfall + (exactly ? 0 : slack)) ||
                      (exactly && possible_at(*rule.shortfall + slack));
  if (tried) CHECK_MESSAGE(enough, "giving way by the shortfall is not enough");
  const double less = *rule.shortfall * 0.99 - slack;
  if (less > 0) CHECK_FALSE_MESSAGE(possible_at(less), "less than the shortfall is enough");
  ++counts.shortfalls;
}

void check_irreducible(const Scenario& scenario, const Conflict& conflict, Counts& counts) {
  std::set<std::string> names;
  std::string listed;
  for (const ConflictingRule& rule : conflict.rules) {
    CHECK_MESSAGE(names.insert(rule.rule).second, "named twice: ", rule.rule);
    listed += rule.rule + "; ";
  }
  CAPTURE(listed);
  REQUIRE_FALSE(names.empty());
  CHECK(conflict.irreducible);
  CHECK_FALSE_MESSAGE(possible(scenario, names), "the rules named allow a blend");
  for (const ConflictingRule& rule : conflict.rules) {
    CAPTURE(rule.rule);
    std::set<std::string> others = names;
    others.erase(rule.rule);
    CHECK_MESSAGE(possible(scenario, others), "the others conflict without it");
    check_shortfall(scenario, names, rule, counts);
    ++counts.rules;
  }
}

/// The draft after all changes, each limit moved another 1e-7 of itself. An equality has no loose
/// side, so it is moved by `equality_way` times that.
ScenarioDraft after(const ScenarioDraft& draft, const Conflict& conflict, double equality_way) {
  ScenarioDraft changed = draft;
  for (const Change& change : conflict.nearest) {
    const bool equality = parsed_rule(change.rule).side == "exactly";
    const double way = equality ? equality_way : change.to > change.from ? 1 : -1;
    changed = with_limit(changed, change.rule, change.to + way * 1e-7 * std::fabs(change.to));
  }
  return changed;
}

void check_nearest(const Scenario& scenario, const Conflict& conflict, Counts& counts) {
  if (conflict.nearest.empty()) {
    CHECK_FALSE(conflict.nearest_cost_per_t.has_value());
    return;
  }
  std::ostringstream listed;
  for (const Change& change : conflict.nearest) {
    CHECK(limit_of(scenario.draft(), change.rule).value() == doctest::Approx(change.from));
    CHECK(change.from != change.to);
    CHECK_MESSAGE(sensible(change.rule, change.to), change.rule, " cannot become ", change.to);
    listed << change.rule << " to " << change.to << "; ";
  }
  const std::string changes = listed.str();
  CAPTURE(changes);
  Reply reply;
  for (const double equality_way : {0.0, 1.0, -1.0})
    if (reply.outcome != Outcome::blend)
      reply = reply_to(after(scenario.draft(), conflict, equality_way));
  CHECK_MESSAGE(reply.outcome == Outcome::blend, "the nearest limits allow no blend");
  if (reply.outcome != Outcome::blend) return;
  const auto& stated = conflict.basis == Basis::per_hectare ? conflict.nearest_cost_per_ha
                                                            : conflict.nearest_cost_per_t;
  REQUIRE(stated.has_value());
  CHECK(*stated == doctest::Approx(reply.cost).epsilon(1e-4));
  ++counts.nearest;
}

}  // namespace

TEST_SUITE("conflict") {
  TEST_CASE("each conflict is real, irreducible, and ended by the changes named") {
    Counts counts;
    for (std::uint64_t seed = 40'000; seed < 40'000 + scenarios; ++seed) {
      CAPTURE(seed);
      const ScenarioDraft draft = random_draft(seed, {.materials = 6 + static_cast<int>(seed % 14),
                                                      .either_or = seed % 3 != 0,
                                                      .sabotage = 1});
      const Scenario scenario(draft);
      if (formulate(scenario, {.intervals = false}).conflict() == nullptr) continue;
      const Formulation answer = formulate(scenario);
      const Conflict* conflict = answer.conflict();
      REQUIRE(conflict != nullptr);
      ++counts.conflicts;
      check_irreducible(scenario, *conflict, counts);
      check_nearest(scenario, *conflict, counts);
    }
    std::cerr << counts.conflicts << " conflicts of " << counts.rules << " rules, "
              << counts.shortfalls << " shortfalls, " << counts.nearest << " nearest blends\n";
    CHECK(counts.conflicts > 80);
    CHECK(counts.shortfalls > 100);
    CHECK(counts.nearest > 40);
  }
}
