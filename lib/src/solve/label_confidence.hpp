#pragma once
#include <leastwise/chance_constraint.hpp>

#include <vector>

namespace leastwise::solve {

/// `limit_confidences` from amounts along Scenario::materials(), kg per hectare or per tonne, in
/// `total` kg of product.
[[nodiscard]] std::vector<LimitConfidence> limit_confidences(const Scenario& scenario,
                                                             const std::vector<double>& kg,
                                                             double total);

/// Says of each such limit how sure it is.
void add_confidence_notes(const Scenario& scenario, const std::vector<double>& kg, double total,
                          std::vector<Note>& notes);

}  // namespace leastwise::solve
