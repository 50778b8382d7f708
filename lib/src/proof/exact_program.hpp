#pragma once
#include <string>
#include <utility>
#include <vector>

#include "proof/exact_rows.hpp"

namespace leastwise::proof {

/// `sum entries u >= limit` in whole numbers.
struct WholeRow {
  std::vector<std::pair<std::size_t, Integer>> entries{};
  Integer limit{};
  Rational scale{};  ///< multiplier of the rule = scale x multiplier of this row
  double scale_about = 1;
};

/// The rules of a scenario as whole numbers: minimise cost.u, u >= 0. x_j = scale_j u_j.
class ExactProgram {
 public:
  ExactProgram(const Scenario& scenario, const model::Model& model);

  [[nodiscard]] std::size_t columns() const { return cost_.size(); }
  [[nodiscard]] std::size_t size() const { return rows_.size(); }
  [[nodiscard]] const WholeRow& row(std::size_t r) const { return rows_[r]; }
  [[nodiscard]] const ExactRow& rule(std::size_t r) const { return rules_[r]; }
  [[nodiscard]] const Integer& cost(std::size_t j) const { return cost_[j]; }
  [[nodiscard]] const Rational& column_scale(std::size_t j) const { return column_scale_[j]; }
  /// The other side of the same row, when both are equal: an equality; otherwise `r` itself.
  [[nodiscard]] std::size_t opposite(std::size_t r) const { return opposite_[r]; }

 private:
  void scale_columns(const std::vector<Rational>& costs);
  void find_opposites();

  std::vector<ExactRow> rules_;
  std::vector<WholeRow> rows_{};
  std::vector<Integer> cost_{};
  std::vector<Rational> column_scale_{};
  std::vector<std::size_t> opposite_{};
};

/// A case of the search: which materials are out and which rows hold.
struct Scope {
  std::vector<char> out{};    ///< by column
  std::vector<char> holds{};  ///< by row
};

}  // namespace leastwise::proof
