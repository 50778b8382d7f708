#include "proof/prover.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <stdexcept>

#include "exact/decimal.hpp"
#include "exact/fingerprint.hpp"
#include "exact/working_set.hpp"
#include "proof/broken_rule.hpp"
#include "proof/rounded_multipliers.hpp"
#include "solver/branching.hpp"

namespace leastwise::proof {
namespace {

using base::StopCheck;
using exact::ExactSolution;
using exact::solve_exactly;
using exact::Tableau;
using solver::Decision;
using solver::Leaf;
using Kind = Decision::Kind;
using Path = std::vector<Decision>;

class Prover {
 public:
  Prover(const Scenario& scenario, const model::Model& model, const StopCheck& stop_check)
      : scenario_(scenario),
        model_(model),
        stop_check_(stop_check),
        program_(scenario, model),
        branching_(model),
        data_(solver::relaxation(model)),
        hints_(program_, model, data_) {}

  ProverResult run(const solver::SearchResult& found) {
    // The blend first: what it costs settles most of the other cases.
    const auto is_blend = [&](const Leaf& leaf) {
      return found.has_blend && same(leaf.path, found.path);
    };
    for (const auto& leaf : found.leaves)
      if (is_blend(leaf)) settle(leaf.path, leaf, basis_of(found));
    for (const auto& leaf : found.leaves)
      if (!is_blend(leaf)) settle(leaf.path, leaf, {});
    if (found.leaves.empty()) settle({}, {}, {});
    finish();
    return std::move(result_);
  }

 private:
  static bool same(const Path& a, const Path& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& p, const auto& q) {
      return p.kind == q.kind && p.index == q.index;
    });
  }

  [[nodiscard]] Scope scope_of(const Path& path) const;
  [[nodiscard]] bool too_many_bins(const Path& path) const;
  [[nodiscard]] Guess basis_of(const solver::SearchResult& found) const;
  void settle(const Path& path, const Leaf& hint, const Guess& guess);
  bool settle_by_hint(const Path& path, const Scope& scope, const Leaf& hint);
  void settle_exactly(const Path& path, const Scope& scope, const Guess& guess, bool infeasible);
  void accept(const ExactSolution& solution, const Rational& cost);
  void record(const Path& path, const CaseProof& proof, const char* settled_by);
  [[nodiscard]] ProofDecision words(const Decision& decision) const;
  void finish();

  const Scenario& scenario_;
  const model::Model& model_;
  const StopCheck& stop_check_;
  ExactProgram program_;
  solver::Branching branching_;
  solver::LinearProgram data_;
  Hints hints_;
  std::optional<Rational> best_{};
  std::vector<Rational> blend_{};  ///< kg by column
  ProverResult result_{};
};

Scope Prover::scope_of(const Path& path) const {
  solver::NodeBounds bounds;
  branching_.apply(path, bounds);
  Scope scope{std::vector<char>(program_.columns(), 0), std::vector<char>(program_.size(), 1)};
  for (std::size_t j = 0; j < scope.out.size(); ++j)
    scope.out[j] = bounds.upper[j] == 0 && model_.column_upper[j] > 0;
  for (std::size_t r = 0; r < program_.size(); ++r) {
    const int minimum = program_.rule(r).minimum;
    if (minimum >= 0) scope.holds[r] = bounds.minimum_on[static_cast<std::size_t>(minimum)];
  }
  return scope;
}

bool Prover::too_many_bins(const Path& path) const {
  if (!model_.bins) return false;
  std::set<int> families;
  std::set<int> settled;
  std::size_t held = 0;
  for (const auto& decision : path) {
    if (decision.kind == Kind::group_in) families.insert(decision.index);
    if (decision.kind != Kind::column_in) continue;
    ++held;
    settled.insert(model_.family_of[static_cast<std::size_t>(decision.index)]);
  }
  for (const int family : families) held += settled.contains(family) ? 0 : 1;
  return held > static_cast<std::size_t>(*model_.bins);
}

/// Tight rows and positive columns of the solver's blend.
Guess Prover::basis_of(const solver::SearchResult& found) const {
  Guess guess{std::vector<char>(program_.size(), 0), std::vector<char>(program_.columns(), 0)};
  constexpr double close = 1e-9;
  for (std::size_t j = 0; j < program_.columns(); ++j)
    guess.columns[j] = found.x[j] > 0 || found.column_standing[j] == solver::BasisStatus::basic;
  for (std::size_t r = 0; r < program_.size(); ++r) {
    const auto& rule = program_.rule(r);
    double activity = -rule.limit.convert_to<double>();
    double size = std::fabs(activity);
    for (const auto& [j, value] : rule.entries) {
      if (found.x[j] == 0) continue;
      const double term = value.convert_to<double>() * found.x[j];
      activity += term;
      size += std::fabs(term);
    }
    guess.rows[r] = std::fabs(activity) <= close * size && size > 0;
  }
  return guess;
}

/// A contradiction may be taken any number of times: that of one rule alone is told once.
CaseProof plainest(const ExactProgram& program, CaseProof proof) {
  if (proof.multipliers.size() != 1) return proof;
  proof.multipliers.front().second = 1;
  proof.bound = program.rule(proof.multipliers.front().first).limit;
  return proof;
}

void Prover::settle(const Path& path, const Leaf& hint, const Guess& guess) {
  stop_check_();
  if (too_many_bins(path)) return record(path, {}, "bins");
  const Scope scope = scope_of(path);
  if (settle_by_hint(path, scope, hint)) return;
  ++result_.exact_cases;
  const bool infeasible = hint.outcome == Leaf::Outcome::infeasible;
  Guess start = guess;
  if (guess.rows.empty() && !hint.multipliers.empty())
    start =
        hints_.guess(scope, hint.multipliers, infeasible ? Objective::nothing : Objective::cost);
  settle_exactly(path, scope, start, infeasible);
}

/// Most cases are settled by the solver's own multipliers, once rounded to numbers that hold.
bool Prover::settle_by_hint(const Path& path, const Scope& scope, const Leaf& hint) {
  if (hint.multipliers.empty()) return false;
  const bool infeasible = hint.outcome == Leaf::Outcome::infeasible;
  if (!infeasible && !best_) return false;
  const auto objective = infeasible ? Objective::nothing : Objective::cost;
  const auto proof = rounded_proof(
      program_, scope, hints_.multipliers(scope, hint.multipliers, objective), objective);
  if (!proof || (infeasible ? proof->bound <= 0 : proof->bound < *best_)) return false;
  if (infeasible)
    record(path, plainest(program_, *proof), "contradiction");
  else
    record(path, *proof, "cost");
  return true;
}

/// Multipliers of the rules from those of the whole rows.
CaseProof proof_of(const ExactProgram& program, const ExactSolution& solution) {
  CaseProof proof;
  const bool optimal = solution.status == Tableau::Status::optimal;
  for (std::size_t r = 0; r < program.size(); ++r) {
    if (solution.multipliers[r] == 0) continue;
    const Rational weight =
        program.row_scale(r).exactly *
        Rational(solution.multipliers[r], optimal ? solution.denominator : Integer(1));
    proof.multipliers.emplace_back(r, weight);
    proof.bound += weight * program.rule(r).limit;
  }
  return proof;
}

void Prover::settle_exactly(const Path& path, const Scope& scope, const Guess& guess,
                            bool infeasible) {
  if (infeasible) {
    const auto contradiction =
        solve_exactly(program_.whole(), scope, Objective::nothing, guess, stop_check_);
    if (contradiction.status == Tableau::Status::infeasible)
      return record(path, plainest(program_, proof_of(program_, contradiction)), "contradiction");
  }
  auto solution = solve_exactly(program_.whole(), scope, Objective::cost, guess, stop_check_);
  if (solution.status == Tableau::Status::unbounded) {
    solution = solve_exactly(program_.whole(), scope, Objective::nothing, {}, stop_check_);
    if (solution.status != Tableau::Status::infeasible)
      throw std::runtime_error("the cost has no lower bound");
  }
  const auto proof = proof_of(program_, solution);
  if (solution.status == Tableau::Status::infeasible)
    return record(path, plainest(program_, proof), "contradiction");
  if (best_ && proof.bound >= *best_) return record(path, proof, "cost");
  const auto choice = branch_on_broken_rule(model_, program_, path, solution);
  if (!choice) {
    accept(solution, proof.bound);
    return record(path, proof, "cost");
  }
  for (const Decision& decision : {choice->first, choice->second}) {
    Path longer = path;
    longer.push_back(decision);
    settle(longer, {}, guess);
  }
}

void Prover::accept(const ExactSolution& solution, const Rational& cost) {
  best_ = cost;
  blend_.clear();
  for (std::size_t j = 0; j < program_.columns(); ++j)
    blend_.push_back(program_.column_scale(j) * Rational(solution.values[j], solution.denominator));
}

ProofDecision Prover::words(const Decision& decision) const {
  const auto k = static_cast<std::size_t>(decision.index);
  const auto material = [&](std::size_t j) -> const Material& {
    return scenario_.materials()[static_cast<std::size_t>(model_.material_of[j])];
  };
  const auto family = [&] {
    return material(static_cast<std::size_t>(model_.families[k].front())).family;
  };
  switch (decision.kind) {
    case Kind::family_out:
      return {"family out", family()};
    case Kind::neighbours_out:
      return {"neighbours out", family()};
    case Kind::column_out:
      return {"material out", material(k).name};
    case Kind::column_on:
      return {"material at minimum", material(k).name};
    case Kind::group_out:
      return {"granules out", family()};
    case Kind::group_in:
      return {"granules in", family()};
    case Kind::column_in:
      break;
  }
  return {"material in", material(k).name};
}

void Prover::record(const Path& path, const CaseProof& proof, const char* settled_by) {
  ProofCase one;
  for (const auto& decision : path) one.decisions.push_back(words(decision));
  one.settled_by = settled_by;
  for (const auto& [r, weight] : proof.multipliers) {
    const auto& rule = program_.rule(r);
    one.multipliers.push_back(
        {rule.rule, exact::to_text(rule.is_maximum ? Rational(-weight) : weight)});
  }
  // Where nothing costs anything no rule need count, and the bound is 0.
  if (one.settled_by != "bins") one.bound = exact::to_text(proof.bound);
  result_.proof.cases.push_back(std::move(one));
}

void Prover::finish() {
  Proof& proof = result_.proof;
  proof.scenario = exact::fingerprint(scenario_);
  proof.title = scenario_.title();
  proof.currency = scenario_.currency();
  proof.basis = scenario_.basis() == Basis::per_tonne ? "per tonne" : "per hectare";
  proof.claim = best_ ? "optimal" : "infeasible";
  if (!best_) return;
  proof.cost = exact::to_text(*best_);
  result_.cost = *best_;
  for (std::size_t j = 0; j < blend_.size(); ++j) {
    if (blend_[j] == 0) continue;
    const auto i = static_cast<std::size_t>(model_.material_of[j]);
    proof.portions.push_back({scenario_.materials()[i].name, exact::to_text(blend_[j])});
    result_.turnover += abs(Rational(program_.cost(j)) / program_.column_scale(j) * blend_[j]);
  }
}

}  // namespace

ProverResult prove(const Scenario& scenario, const model::Model& model,
                   const solver::SearchResult& found, const base::StopCheck& stop_check) {
  return Prover(scenario, model, stop_check).run(found);
}

}  // namespace leastwise::proof
