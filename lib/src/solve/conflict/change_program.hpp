#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "solve/conflict/elastic_rules.hpp"
#include "solver/search.hpp"

namespace leastwise::model {
class ModelEdit;
}

namespace leastwise::solve {

/// An interval of an amount D, and of the sum E of relative changes of the limits that are measured
/// against it.
struct ChangeRange {
  double from = 0;
  double to = model::infinity;
  double change_from = 0;
  double change_to = model::infinity;
};

/// One range for each amount.
using ChangeBox = std::vector<ChangeRange>;

/// Which blends a bound is for.
enum class Scaled {
  no,    ///< those in the box
  up,    ///< those with less product, scaled up to it
  down,  ///< those with more product, scaled down to it
};

/// A linear program that bounds from below the relative change which any blend in a box needs.
///
/// A surplus of a row whose coefficients move with its limit stands for a change of surplus / (rate
/// * D), where D is what the limit is measured against: the product, the nutrient below a ratio,
/// the granules. For each D the program has the sum V of weighed surpluses and a column E for V /
/// D. In a box a <= D <= b, c <= E <= d what V = E D lets through lies below two planes,
///
///     V <= b E + c D - b c,    V <= a E + d D - a d  (McCormick 1976),
///
/// which are exact where D or E is at an end of its range.
class ChangeProgram {
 public:
  /// `elastic` and `surplus` must outlive it.
  ChangeProgram(const model::Model& elastic, const std::vector<Surplus>& surplus);

  [[nodiscard]] std::size_t amounts() const { return amounts_.size(); }
  /// Which amount is the product; empty per tonne, where that is no question.
  [[nodiscard]] std::optional<std::size_t> product() const { return product_; }

  /// The least bound in `box`, and where it is reached: amounts, then surpluses, then D, V and E.
  ///
  /// A blend with less product, scaled up, keeps its percentages and ratios, and no maximum is kept
  /// better by it: so minima cost in full, and maxima nothing. Scaled down it is the other way.
  [[nodiscard]] solver::SearchResult bound(const ChangeBox& box, Scaled scaled,
                                           const solver::SearchOptions& options);

  /// Amount `k` of a blend, of which only the columns of the elastic program are asked for.
  [[nodiscard]] double amount(std::size_t k, const std::vector<double>& x) const;
  /// What the program says that the limits measured against amount `k` change by at its point `x`.
  [[nodiscard]] double change(std::size_t k, const std::vector<double>& x) const {
    return x[static_cast<std::size_t>(amounts_[k].change)];
  }
  /// What they change by in truth: V / D.
  [[nodiscard]] double true_change(std::size_t k, const std::vector<double>& x) const;

 private:
  struct Amount {
    std::vector<model::Entry> of{};  ///< per kg of each column; 1 is the most
    int amount = -1;                 ///< column of D
    int weighed = -1;                ///< of V
    int change = -1;                 ///< of E
    int plane_above = -1;            ///< the row with the upper end of D
    int plane_below = -1;            ///< the row with its lower end
  };

  [[nodiscard]] double weight_of(const Surplus& s) const;
  std::size_t add_amount(std::vector<model::Entry> of, model::ModelEdit& edit);
  void add_planes(Amount& amount, model::ModelEdit& edit);
  void add_product(model::ModelEdit& edit);
  void lay(model::Model& program, const Amount& amount, const ChangeRange& range) const;
  [[nodiscard]] model::Model scaled_program(Scaled scaled) const;

  const model::Model& elastic_;
  const std::vector<Surplus>& surplus_;
  model::Model program_;
  std::vector<Amount> amounts_{};
  std::optional<std::size_t> product_{};
};

}  // namespace leastwise::solve
