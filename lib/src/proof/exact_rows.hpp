#pragma once
#include <leastwise/rule_id.hpp>

#include <string>
#include <utility>
#include <vector>

#include "exact/rational.hpp"
#include "model/model.hpp"

namespace leastwise::proof {

using exact::Integer;
using exact::Rational;

/// One side of a rule over the materials of a model: `sum entries x >= limit`; the coefficients of
/// a maximum are negated.
struct ExactRow {
  RuleKind kind = RuleKind::rate;
  std::string rule{};  ///< its name in proofs; both sides of `exactly` share one
  bool is_maximum = false;
  std::vector<std::pair<std::size_t, Rational>> entries{};
  Rational limit{};
  int model_row = -1;     ///< where the model has this side: on a row ...
  int model_column = -1;  ///< ... or as a bound of a column
  int minimum = -1;       ///< of Model::minima: holds only when that one is switched on
};

/// All rules of the model in exact numbers; its total column is replaced by what it stands for.
[[nodiscard]] std::vector<ExactRow> exact_rows(const Scenario& scenario, const model::Model& model);

/// Currency per kg of each material column of the model.
[[nodiscard]] std::vector<Rational> exact_costs(const Scenario& scenario,
                                                const model::Model& model);

}  // namespace leastwise::proof
