#include "solve/conflict/conflict.hpp"

#include <algorithm>

#include "solve/conflict/conflict_proof.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

using model::Model;
using solver::SearchStatus;

struct Verdict {
  Possible possible = Possible::unknown;
  /// After `no`, when asked for: what its proof rests on. Empty where limits cross without a proof.
  std::vector<Constraint> behind{};
};

/// Whether any blend obeys `model`; costs do not matter.
Verdict judge(Model model, const solver::SearchOptions& options, bool explain) {
  std::fill(model.cost.begin(), model.cost.end(), 0.0);
  auto any = options;
  any.any = true;
  any.record_leaves = explain;
  const auto found = solver::search(model, any);
  if (found.status == SearchStatus::optimal) return {Possible::yes};
  if (found.status != SearchStatus::infeasible) return {Possible::unknown};
  return {Possible::no,
          explain ? in_farkas_support(model, found.leaves) : std::vector<Constraint>{}};
}

/// The rules that the proof of an infeasible relaxation rests on; all constraints when the
/// relaxation is feasible or no proof is to be had.
std::vector<Constraint> iis_candidates(const Model& model, const solver::SearchOptions& options) {
  auto all = constraints_of(model);
  if (model::bounds_cross(model)) return all;
  auto y = solver::prove_infeasible(solver::relaxation(model), options.deadline);
  if (y.empty()) return all;
  auto named = in_farkas_support(model, {{{}, solver::Leaf::Outcome::infeasible, std::move(y)}});
  if (possible(keep_only(model, named), options) == Possible::no) return named;
  return all;
}

/// Those of the conflicting `constraints` that its proof rests on. The proof of these may rest on
/// fewer again, and so on.
std::vector<Constraint> drop_redundant(const Model& model, std::vector<Constraint> constraints,
                                       std::vector<Constraint> behind,
                                       const solver::SearchOptions& options) {
  while (!behind.empty() && behind.size() < constraints.size()) {
    auto verdict = judge(keep_only(model, behind), options, true);
    if (verdict.possible != Possible::no) break;  // the proof was at the edge of rounding
    constraints = std::move(behind);
    behind = std::move(verdict.behind);
  }
  return constraints;
}

bool contains(const std::vector<Constraint>& constraints, Constraint::Kind kind,
              std::size_t index) {
  return std::any_of(constraints.begin(), constraints.end(),
                     [&](const Constraint& d) { return d.kind == kind && d.index == index; });
}

}  // namespace

Possible possible(const Model& model, const solver::SearchOptions& options) {
  return judge(model, options, false).possible;
}

std::vector<Constraint> constraints_of(const Model& model) {
  std::vector<Constraint> all;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model.rules[r].active) all.push_back({Constraint::Kind::rule, r});
  for (std::size_t k = 0; k < model.minima.size(); ++k)
    if (model.minima[k].active && model.minima[k].of != model::MinimumIfUsed::Of::price_tier)
      all.push_back({Constraint::Kind::minimum_if_used, k});
  for (std::size_t k = 0; k < model.apart.size(); ++k)
    if (model.apart[k].active) all.push_back({Constraint::Kind::apart, k});
  if (model.bins) all.push_back({Constraint::Kind::bins, 0});
  for (std::size_t k = 0; k < model.joined_bins.size(); ++k)
    if (model.joined_bins[k].active) all.push_back({Constraint::Kind::bins, k});
  return all;
}

Model keep_only(const Model& model, const std::vector<Constraint>& kept) {
  Model reduced = model;
  for (std::size_t r = 0; r < reduced.rules.size(); ++r)
    reduced.rules[r].active = contains(kept, Constraint::Kind::rule, r);
  for (std::size_t k = 0; k < reduced.minima.size(); ++k)
    reduced.minima[k].active = contains(kept, Constraint::Kind::minimum_if_used, k);
  for (std::size_t k = 0; k < reduced.apart.size(); ++k)
    reduced.apart[k].active = contains(kept, Constraint::Kind::apart, k);
  if (!contains(kept, Constraint::Kind::bins, 0)) reduced.bins.reset();
  for (std::size_t k = 0; k < reduced.joined_bins.size(); ++k)
    reduced.joined_bins[k].active = contains(kept, Constraint::Kind::bins, k);
  model::refresh_bounds(reduced);
  return reduced;
}

Irreducible irreducible_conflict(const Model& model, const solver::SearchOptions& options) {
  Irreducible result{iis_candidates(model, options), true};
  // Either-or rules are tried first, so that what remains speaks of plain limits where it can.
  auto order = result.constraints;
  std::stable_sort(order.begin(), order.end(), [](const Constraint& a, const Constraint& b) {
    return static_cast<int>(a.kind) > static_cast<int>(b.kind);
  });
  for (const auto& constraint : order) {
    if (!contains(result.constraints, constraint.kind, constraint.index)) continue;
    std::vector<Constraint> without;
    for (const auto& kept : result.constraints)
      if (kept.kind != constraint.kind || kept.index != constraint.index) without.push_back(kept);
    auto verdict = judge(keep_only(model, without), options, true);
    switch (verdict.possible) {
      case Possible::no:
        result.constraints =
            drop_redundant(model, std::move(without), std::move(verdict.behind), options);
        break;
      case Possible::yes:
        break;
      case Possible::unknown:
        result.irreducible = false;
        break;
    }
  }
  return result;
}

}  // namespace leastwise::solve
