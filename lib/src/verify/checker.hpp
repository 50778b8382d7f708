#pragma once
#include <leastwise/proof.hpp>
#include <leastwise/scenario.hpp>

#include <map>
#include <set>

#include "base/stop_check.hpp"
#include "exact/rational.hpp"

/// The checker of proofs. It shares with the rest of the library what a scenario says, chemistry
/// and exact numbers, and nothing of the model, the solver or the search.
namespace leastwise::checker {

using base::StopCheck;
using exact::Integer;
using exact::Rational;

/// `sum coefficient[j] x_j` is at least (a minimum) or at most `limit`.
struct Rule {
  std::string name{};
  bool is_maximum = false;
  std::vector<Rational> coefficient{};  ///< along Rules::materials
  Rational limit{};
  std::optional<std::size_t> if_used{};  ///< holds only when this material is used; else always
};

/// What a scenario asks, over amounts x_j >= 0 of the materials that may enter a blend.
struct Rules {
  std::vector<std::string> materials{};
  std::vector<std::string> families{};  ///< of each material
  std::vector<char> granular{};         ///< whether it takes a bin
  std::vector<Rational> mass{};         ///< kg of product per kg
  std::vector<Rational> cost{};         ///< currency per kg
  std::vector<Rule> rules{};
  std::vector<std::pair<std::string, std::string>> apart{};
  std::optional<int> bins{};
};

[[nodiscard]] Rules rules_of(const Scenario& scenario, const StopCheck& stop);

/// What the decisions of one case imply.
struct Implied {
  std::set<std::size_t> out{};         ///< materials that are not in the blend
  std::set<std::size_t> at_minimum{};  ///< materials that keep their minimum if used
  bool too_many_bins = false;
};

/// Throws: std::string, what is wrong, when a decision makes no sense under `rules`.
[[nodiscard]] Implied implied_by(const std::vector<ProofDecision>& decisions, const Rules& rules);

/// Whether the cases, told apart by their decisions, leave no blend out and none is surplus.
[[nodiscard]] bool covers_every_blend(const std::vector<ProofCase>& cases);

}  // namespace leastwise::checker
