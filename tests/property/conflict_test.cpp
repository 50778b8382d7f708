#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <set>
#include <sstream>
#include <string>

#include "solve/conflict/conflict_proof.hpp"
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

constexpr std::uint64_t conflict_scenarios = 900;

struct ConflictsMet {
  int conflicts = 0, rules = 0, shortfalls = 0, nearest = 0;
  int lost = 0;    ///< conflicts whose nearest blend is said to be not found
  int beyond = 0;  ///< blends of more product per hectare than the peer's program can hold
};

/// The limit moved by `amount` towards giving way: a minimum falls, a maximum rises.
double given_way(const RuleId& rule, double limit, double amount) {
  return rule.side == RuleSide::min ? limit - amount : limit + amount;
}

/// True for a limit that may take the value (no negative amounts, no more than all of it).
bool sensible(const RuleId& rule, double limit) {
  return limit >= 0 && !(limit_unit(rule) == LimitUnit::percent && limit > 100);
}

enum class Verdict { possible, impossible, impossible_below_cap };

/// Whether the rules of those names alone allow a blend, judged by a solver that is not ours. Its
/// program needs a cap on the product per hectare, far above any field's, where no rule gives one.
Verdict judged(const Scenario& scenario, const std::set<RuleId>& names) {
  Reading reading = restricted_to(read(scenario), names);
  std::fill(reading.cost_per_kg.begin(), reading.cost_per_kg.end(), 1.0);
  const PeerAnswer answer = solve_with_peer(reading, Peer::glpk);
  REQUIRE(answer.status != PeerStatus::unfinished);
  if (answer.status == PeerStatus::optimal) return Verdict::possible;
  return answer.proven_cap ? Verdict::impossible : Verdict::impossible_below_cap;
}

bool possible(const Scenario& scenario, const std::set<RuleId>& names) {
  return judged(scenario, names) == Verdict::possible;
}

void check_shortfall(const Scenario& scenario, const std::set<RuleId>& names,
                     const ConflictingRule& rule, ConflictsMet& counts) {
  if (!rule.limit || !rule.shortfall || rule.id == bins_rule()) return;
  CAPTURE(*rule.limit);
  CAPTURE(*rule.shortfall);
  CHECK(*rule.shortfall > 0);
  CHECK(limit_of(scenario.draft(), rule.id).value() == doctest::Approx(*rule.limit));
  const bool exactly = rule.id.side == RuleSide::exactly;
  bool tried = false;
  bool beyond = false;
  const auto possible_at = [&](double amount) {
    bool any = false;
    for (const double sign : {1.0, -1.0}) {
      if (sign < 0 && !exactly) continue;
      const double limit = given_way(rule.id, *rule.limit, sign * amount);
      if (!sensible(rule.id, limit)) continue;
      try {
        const Scenario moved(with_limit(scenario.draft(), rule.id, limit));
        tried = true;
        const auto verdict = judged(moved, names);
        any = any || verdict == Verdict::possible;
        beyond = beyond || verdict == Verdict::impossible_below_cap;
      } catch (const InputError&) {
        continue;  // the limit would cross another one
      }
    }
    return any;
  };
  const double slack = 1e-6 * std::max(std::fabs(*rule.limit), 1e-3);
  const bool enough = possible_at(*rule.shortfall + (exactly ? 0 : slack)) ||
                      (exactly && possible_at(*rule.shortfall + slack));
  if (tried && !enough && beyond)
    ++counts.beyond;
  else if (tried)
    CHECK_MESSAGE(enough, "giving way by the shortfall is not enough: ", to_string(rule.id), " ",
                  *rule.limit, " by ", *rule.shortfall);
  const double less = *rule.shortfall * 0.99 - slack;
  if (less > 0) CHECK_FALSE_MESSAGE(possible_at(less), "less than the shortfall is enough");
  ++counts.shortfalls;
}

void check_irreducible(const Scenario& scenario, const Conflict& conflict, ConflictsMet& counts) {
  std::set<RuleId> names;
  std::string listed;
  for (const ConflictingRule& rule : conflict.rules) {
    CHECK_MESSAGE(names.insert(rule.id).second, "named twice: ", rule.rule);
    listed += rule.rule + "; ";
  }
  CAPTURE(listed);
  REQUIRE_FALSE(names.empty());
  CHECK(conflict.irreducible);
  CHECK_FALSE_MESSAGE(possible(scenario, names), "the rules named allow a blend");
  for (const ConflictingRule& rule : conflict.rules) {
    CAPTURE(rule.rule);
    std::set<RuleId> others = names;
    others.erase(rule.id);
    const auto verdict = judged(scenario, others);
    CHECK_MESSAGE(verdict != Verdict::impossible, "the others conflict without it");
    if (verdict == Verdict::impossible_below_cap) ++counts.beyond;
    check_shortfall(scenario, names, rule, counts);
    ++counts.rules;
  }
}

/// The draft after all changes, each limit moved another 1e-7 of itself. An equality has no loose
/// side, so it is moved by `equality_way` times that.
ScenarioDraft after(const ScenarioDraft& draft, const Conflict& conflict, double equality_way) {
  ScenarioDraft changed = draft;
  for (const Change& change : conflict.nearest) {
    const bool equality = change.id.side == RuleSide::exactly;
    const double way = equality ? equality_way : change.to > change.from ? 1 : -1;
    changed = with_limit(changed, change.id, change.to + way * 1e-7 * std::fabs(change.to));
  }
  return changed;
}

void check_nearest(const Scenario& scenario, const Conflict& conflict, ConflictsMet& counts) {
  if (conflict.nearest.empty()) {
    CHECK_FALSE(conflict.nearest_cost_per_t.has_value());
    if (conflict.nearest_blend.is_none()) return;
    CHECK_FALSE(conflict.nearest_blend.is_computed());
    CHECK(std::ranges::count(conflict.notes, NoteCode::not_finished, &Note::code) == 1);
    ++counts.lost;
    return;
  }
  std::ostringstream listed;
  for (const Change& change : conflict.nearest) {
    CHECK(limit_of(scenario.draft(), change.id).value() == doctest::Approx(change.from));
    CHECK(change.from != change.to);
    CHECK_MESSAGE(sensible(change.id, change.to), change.rule, " cannot become ", change.to);
    listed << change.rule << " to " << change.to << "; ";
  }
  const std::string changes = listed.str();
  CAPTURE(changes);
  Reply reply;
  for (const double equality_way : {0.0, 1.0, -1.0})
    if (reply.outcome != PeerOutcome::blend)
      reply = reply_to(after(scenario.draft(), conflict, equality_way));
  CHECK_MESSAGE(reply.outcome == PeerOutcome::blend, "the nearest limits allow no blend");
  if (reply.outcome != PeerOutcome::blend) return;
  const auto& stated = conflict.basis == Basis::per_hectare ? conflict.nearest_cost_per_ha
                                                            : conflict.nearest_cost_per_t;
  REQUIRE(stated.has_value());
  CHECK(*stated == doctest::Approx(reply.cost).epsilon(1e-4));
  ++counts.nearest;
}

}  // namespace

TEST_SUITE("conflict") {
  TEST_CASE("each conflict is real, irreducible, and ended by the changes named") {
    ConflictsMet counts;
    for (std::uint64_t seed = 40'000; seed < 40'000 + conflict_scenarios; ++seed) {
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
              << counts.shortfalls << " shortfalls, " << counts.nearest << " nearest blends, "
              << counts.beyond << " beyond the peer's cap\n";
    CHECK(counts.conflicts > 80);
    CHECK(counts.shortfalls > 100);
    CHECK(counts.nearest > 40);
    CHECK(counts.lost <= counts.conflicts / 100);
    CHECK(counts.beyond <= counts.rules / 200);
  }

  TEST_CASE("what a proof rests on conflicts by itself") {
    std::size_t asked = 0;
    std::size_t behind_it = 0;
    for (std::uint64_t seed = 41'000; seed < 41'600; ++seed) {
      CAPTURE(seed);
      const Scenario scenario(random_draft(seed, {.materials = 10 + static_cast<int>(seed % 30),
                                                  .either_or = true,
                                                  .sabotage = 1,
                                                  .frills = false}));
      auto model = model::build(scenario);
      std::fill(model.cost.begin(), model.cost.end(), 0.0);
      solver::SearchOptions options;
      options.any = options.record_leaves = true;
      const auto found = solver::search(model, options);
      if (found.status != solver::SearchStatus::infeasible || found.leaves.empty()) continue;
      const auto behind = solve::in_farkas_support(model, found.leaves);
      const auto alone = solver::search(solve::keep_only(model, behind), options);
      CHECK(alone.status == solver::SearchStatus::infeasible);
      asked += solve::constraints_of(model).size();
      behind_it += behind.size();
    }
    std::cerr << "of " << asked << " constraints the proofs rest on " << behind_it << '\n';
    CHECK(asked > 1000);
    CHECK(behind_it < asked / 2);
  }
}
