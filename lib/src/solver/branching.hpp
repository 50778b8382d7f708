#pragma once
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solver {

/// The bounds a node of the search lays on the model.
struct NodeBounds {
  std::vector<double> lower{};
  std::vector<double> upper{};
  std::vector<char> minimum_on{};  ///< along Model::minima: its row is switched on
  bool contradictory = false;      ///< some column must be both used and left out
};

/// Turns either-or rules into bounds and finds which rule a blend violates.
class Branching {
 public:
  explicit Branching(const model::Model& model);

  /// The bounds after all decisions of `path`, with what the bin count then implies.
  void apply(std::span<const Decision> path, NodeBounds& bounds) const;

  /// Two decisions that cover every blend and both exclude `x`, in which every column above zero is
  /// in use; the likelier one first. Nothing when `x` obeys every either-or rule.
  [[nodiscard]] std::optional<std::pair<Decision, Decision>> branch(
      std::span<const double> x, std::span<const Decision> path) const;

 private:
  struct Bins;
  void take(const Decision& decision, NodeBounds& bounds) const;
  void switch_minima_on(int column, NodeBounds& bounds) const;
  /// Calls `visit` with each limit on bins: that of the model, or one for each joined model.
  template <class Visit>
  void each_bin_limit(Visit visit) const;
  void close_full_bins(const model::BinLimit& limit, std::span<const Decision> path,
                       NodeBounds& bounds) const;
  [[nodiscard]] Bins count_bins(const model::BinLimit& limit, std::span<const Decision> path) const;
  [[nodiscard]] std::optional<std::pair<Decision, Decision>> branch_families(
      std::span<const double> x) const;
  [[nodiscard]] std::optional<std::pair<Decision, Decision>> branch_minima(
      std::span<const double> x) const;
  [[nodiscard]] std::optional<std::pair<Decision, Decision>> branch_bins(
      const model::BinLimit& limit, std::span<const double> x,
      std::span<const Decision> path) const;

  const model::Model& model_;
  std::vector<std::vector<int>> neighbours_{};       ///< by family: families kept apart from it
  std::vector<std::vector<int>> granular_family_{};  ///< by family: its granular columns
};

}  // namespace leastwise::solver
