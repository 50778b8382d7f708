#pragma once
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"

namespace leastwise::analysis {

/// A model in which the binder is weighed like everything else.
struct GridModel {
  model::Model model{};
  double unit = 0;  ///< kg of one step in the model's units: per ha or per t
  /// The binder by its share of the powders, to the nearest step; -1: no powder may enter, or the
  /// binder weighs nothing.
  int binder_column = -1;
  /// The one step that powders still get where their share is nearer to none: at most one of this
  /// and `binder_column` is above 0. The binder weighed is their sum.
  int least_binder_column = -1;
  std::vector<int> grid{};  ///< the columns that are whole numbers of units
};

/// `unit` is one step in kg per hectare or per tonne of product. No powder goes without binder: it
/// is the step nearest to its share of the powders, and at least one.
[[nodiscard]] GridModel grid_model(const Scenario& scenario, const model::Model& model,
                                   double unit);

/// `grid` with every rule free to give way at a price: the relative drift times `drift_price`, on
/// top of the cost. `x` gives the size of rows whose coefficients move with the limit.
[[nodiscard]] GridModel elastic_grid(const GridModel& grid, const std::vector<double>& x,
                                     double drift_price);

}  // namespace leastwise::analysis
