#pragma once
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"

namespace leastwise::insight {

/// A model in which the binder is weighed like everything else.
struct GridModel {
  model::Model model{};
  double unit = 0;          ///< kg of one step in the model's units: per ha or per t
  int binder_column = -1;   ///< -1: no powder may enter, or the binder weighs nothing
  std::vector<int> grid{};  ///< the columns that are whole numbers of units
};

/// `unit` is one step in kg per hectare or per tonne of product.
[[nodiscard]] GridModel grid_model(const Scenario& scenario, const model::Model& model,
                                   double unit);

/// What a rule says of `x`, in the user's units: the limit at which `x` would just keep it.
[[nodiscard]] double value_of_rule(const model::Model& model, std::size_t r,
                                   const std::vector<double>& x);
/// Whether `x` breaks rule `r` by more than rounding.
[[nodiscard]] bool breaks_rule(const model::Model& model, std::size_t r,
                               const std::vector<double>& x);

/// `grid` with every rule free to give way at a price: the relative drift times `drift_price`, on
/// top of the cost. `x` gives the size of rows whose coefficients move with the limit.
[[nodiscard]] GridModel elastic_grid(const GridModel& grid, const std::vector<double>& x,
                                     double drift_price);

}  // namespace leastwise::insight
