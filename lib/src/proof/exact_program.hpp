#pragma once
#include <string>
#include <utility>
#include <vector>

#include "exact/whole_program.hpp"
#include "proof/exact_rows.hpp"

namespace leastwise::proof {

using exact::Scope;

/// How the multiplier of a rule follows from that of its whole row.
struct RowScale {
  Rational exactly{};  ///< multiplier of the rule = this x multiplier of the row
  double about = 1;
};

/// The rules of a scenario as whole numbers: minimise cost.u, u >= 0. x_j = scale_j u_j.
class ExactProgram {
 public:
  ExactProgram(const Scenario& scenario, const model::Model& model);

  [[nodiscard]] const exact::WholeProgram& whole() const { return whole_; }
  [[nodiscard]] std::size_t columns() const { return whole_.cost.size(); }
  [[nodiscard]] std::size_t size() const { return whole_.rows.size(); }
  [[nodiscard]] const exact::WholeRow& row(std::size_t r) const { return whole_.rows[r]; }
  [[nodiscard]] const RowScale& row_scale(std::size_t r) const { return row_scale_[r]; }
  [[nodiscard]] const ExactRow& rule(std::size_t r) const { return rules_[r]; }
  [[nodiscard]] const Integer& cost(std::size_t j) const { return whole_.cost[j]; }
  [[nodiscard]] const Integer& column_scale(std::size_t j) const { return whole_.column_scale[j]; }
  /// The other side of the same row, when both are equal: an equality; otherwise `r` itself.
  [[nodiscard]] std::size_t opposite(std::size_t r) const { return opposite_[r]; }

 private:
  void scale_columns(const std::vector<Rational>& costs);
  void add_whole(const ExactRow& rule);
  void find_opposites();

  std::vector<ExactRow> rules_;
  exact::WholeProgram whole_{};
  std::vector<RowScale> row_scale_{};
  std::vector<std::size_t> opposite_{};
};

}  // namespace leastwise::proof
