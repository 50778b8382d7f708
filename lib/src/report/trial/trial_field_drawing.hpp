#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <string>

namespace leastwise::report {

/// The plots of a site side by side, as the body of an SVG.
struct FieldDrawing {
  double width = 0;
  double height = 0;
  std::string body{};
};

/// Draws the rows from `first` to `last`, with what headlands and border lie beside them.
[[nodiscard]] FieldDrawing field_drawing(const TrialPlan& plan, std::size_t site, bool blinded,
                                         int first, int last);

}  // namespace leastwise::report
